import type { ReadPack } from './scan-field.tsx';

/** Which container on the shelf a scanned pack is, or a sentence that says why it cannot be told. Never a guess. */
export function packOnShelf(
  { number, product, here }: ReadPack,
  medicine?: string,
): { container: string } | { wrong: string } {
  if (product === undefined) {
    return { wrong: 'The code of this product is not known here. Choose the container by its number.' };
  }
  if (medicine !== undefined && product.medicine !== medicine) {
    return { wrong: `This pack is ${product.name}, and another medicine is chosen. Take the right one.` };
  }
  if (number === undefined) {
    return { wrong: 'This code names the product alone. Choose the container by its number.' };
  }
  const [first, ...more] = here;
  if (first === undefined)
    return { wrong: `No container of batch ${number} of ${product.name} is on the shelf.` };
  if (more.length === 0) return { container: first.container };
  const labels = here.map(({ label }) => label);
  const few = labels.length > 6 ? `${labels.slice(0, 6).join(', ')} and others` : labels.join(', ');
  return {
    wrong: `Batch ${number} stands here in ${here.length} containers: ${few}. Choose the one in your hand.`,
  };
}
