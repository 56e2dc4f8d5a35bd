import type { Reply } from '../../src-shared/calls/all.ts';
import { keepHere, useKeptHere } from './kept-here.ts';
import { useCall } from './use-call.ts';

export type Person = Reply<'farm'>['people'][number];

/** Roles of people who sit at this keyboard, the likeliest first. */
const writes = ['keeper', 'shepherd', 'clerk', 'owner', 'vet'] as const;

/** Who may be writing: people in the book, the likeliest first. A supplier or contractor only writes if also one of them. */
export function writersOf(people: readonly Person[]): Person[] {
  const rank = (person: Person) => writes.findIndex((role) => person.roles.includes(role));
  return people
    .filter((person) => person.active && rank(person) >= 0)
    .toSorted((a, b) => rank(a) - rank(b) || a.name.localeCompare(b.name));
}

/** The person whose name goes under what is written here, and how to change it. */
export function useWriter(): { person: string | undefined; name: string; writers: Person[] } {
  const farm = useCall('farm', {});
  const chosen = useKeptHere('writer');
  const writers = farm.state === 'ready' ? writersOf(farm.value.people) : [];
  const writer = writers.find((person) => person.person === chosen) ?? writers[0];
  return { person: writer?.person, name: writer?.name ?? '', writers };
}

/** From now on this person writes, on this computer. */
export function writeAs(person: string): void {
  keepHere('writer', person);
}
