import type { Reply } from '../../src-shared/calls/all.ts';
import { writeCsv } from './write.ts';

type Cost = Reply<'cost'>;
type Money = Cost['total'];

const HEAD = ['What', 'Name', 'Head dosed', 'Cost', 'Each', 'Lost', 'Known'];

/** What stands in the last column: a sum that is not all of it would pass for one. */
const known = (isPart: boolean) => (isPart ? 'in part: something of it has no price' : 'whole');
const said = (money: Money) => money.map(({ text }) => text).join(' + ');

/**
 * What medicines cost as comma-separated text: a line for all, then for each medicine (each dose), group and animal or
 * lot (each head); then what is in no sum. Formulas are made harmless.
 */
export function costCsv(cost: Cost): { text: string; rows: number } {
  const isPart = cost.medicines.some((one) => one.isPart);
  const rows = [
    ['In all', '', '', said(cost.total), '', said(cost.lost), known(isPart)],
    ...cost.medicines.map((one) => [
      ...['Medicine', one.name, String(one.doses), said(one.cost), said(one.perDose), said(one.lost)],
      known(one.isPart),
    ]),
    ...cost.groups.map((one) => [
      ...['Group', one.name, String(one.heads), said(one.cost), said(one.perHead), ''],
      known(one.isPart),
    ]),
    ...cost.subjects.map((one) => [
      ...['Animal or lot', one.shown, String(one.heads), said(one.cost), said(one.perHead), ''],
      known(one.isPart),
    ]),
    ...cost.unknown.map(({ text }) => ['In no sum', text, '', '', '', '', '']),
  ];
  return { text: writeCsv(HEAD, rows, { bom: true }), rows: rows.length };
}
