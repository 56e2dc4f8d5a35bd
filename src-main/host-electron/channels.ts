/** The names on the line from a window to the main process; the only three there are. */
export const channels = { call: 'foldbook:call', file: 'foldbook:file', paper: 'foldbook:paper' } as const;

/** The one name on the line the other way: the id of a deed that was chosen in the menu. */
export const commandChannel = 'foldbook:command';
