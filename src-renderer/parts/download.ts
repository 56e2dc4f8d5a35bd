/** Hands a text to the browser as a file to save. */
export function downloadText(name: string, text: string, mime: string): void {
  // The mark at the start tells spreadsheets that names with accents are in UTF-8.
  const url = URL.createObjectURL(new Blob(['\uFEFF', text], { type: `${mime};charset=utf-8` }));
  saveFrom(url, name);
  // The browser has taken the bytes once the click is through.
  URL.revokeObjectURL(url);
}

/** Starts saving what is at an address of our own, as if its link had been pressed. */
export function saveFrom(url: string, name: string): void {
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
}
