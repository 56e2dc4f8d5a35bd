import { type Column, List } from '../../parts/list.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { go } from '../../router.tsx';
import { type GroupRow, sayDates } from './dates-words.ts';

const columns: readonly Column<GroupRow>[] = [
  { key: 'name', head: 'Group', isName: true, text: (row) => row.name, share: 2 },
  {
    key: 'heads',
    head: 'Head here',
    text: (row) => String(row.heads),
    show: (row) => row.heads.toLocaleString('en-GB'),
    order: (row) => row.heads,
    isNumber: true,
  },
  { key: 'dates', head: 'Dates', text: (row) => sayDates(row.dates), share: 3 },
];

/** Groups with their head count and dates. Enter opens one. */
export function GroupsList({
  groups,
  isAside = false,
}: {
  groups: readonly GroupRow[];
  /** Beside the list of animals. */
  isAside?: boolean;
}) {
  return (
    <List
      rows={groups}
      columns={columns}
      rowKey={(row) => row.group}
      label="Groups"
      isAside={isAside}
      fileName="groups"
      onOpen={({ group }) => go({ to: 'flock/group/:group', params: { group } })}
      empty={<Empty>There is no group yet. Give the first one a name below.</Empty>}
    />
  );
}
