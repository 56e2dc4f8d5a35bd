import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { DeedLink } from '../../parts/deed.tsx';
import { type Column, List } from '../../parts/list.tsx';
import { Warnings } from '../../parts/notice.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { useParams } from '../../router.tsx';
import { sayMeasures, sayWhat, verdictWords } from './equipment-words.ts';
import { GunCheck } from './gun-check.tsx';
import { WeigherCheck } from './weigher-check.tsx';

type Check = Reply<'equipment-checks'>['checks'][number];

/** One syringe, gun or weigher: checked here, with every check of it before. */
export default function EquipmentOneScreen() {
  const { equipment: id } = useParams('farm/equipment/:equipment');
  const call = useCall('equipment-checks', { equipment: id });
  return (
    <Await call={call} what="Reading its checks">
      {({ equipment: one, checks }) => {
        const measures = sayMeasures(one);
        return (
          <Screen
            title={one.name}
            lead={`${sayWhat(one.what)}${measures === undefined ? '' : `, ${measures}`}${one.active ? '' : '. No longer used'}.`}
            deeds={
              <>
                <DeedLink to="farm/equipment/:equipment/change" params={{ equipment: id }}>
                  Change it
                </DeedLink>
                <DeedLink to="farm/equipment">See them all</DeedLink>
              </>
            }
          >
            {one.due === undefined ? null : <Warnings warnings={[one.due]} />}
            {one.what === 'gun' && one.active ? <GunCheck one={one} /> : null}
            {one.what === 'weigher' && one.active ? <WeigherCheck one={one} /> : null}
            {one.what === 'syringe' ? null : (
              <Section title="Checked before">
                <List
                  rows={checks}
                  columns={columns}
                  rowKey={(row) => row.check}
                  label="Checked before"
                  fileName={`checks ${one.name}`}
                  empty={<Empty>It has never been checked on record.</Empty>}
                />
              </Section>
            )}
          </Screen>
        );
      }}
    </Await>
  );
}

const columns: readonly Column<Check>[] = [
  { key: 'local', head: 'When', text: (row) => row.local, show: (row) => `${row.local}, ${row.ago}` },
  { key: 'verdict', head: 'Verdict', text: (row) => verdictWords[row.verdict], share: 0.7 },
  { key: 'found', head: 'What was done', text: (row) => row.found, share: 1.4 },
  { key: 'says', head: 'What came of it', text: (row) => row.says, share: 2 },
  { key: 'by', head: 'By', text: (row) => row.by, share: 0.8 },
];
