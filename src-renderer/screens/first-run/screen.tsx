import { useForm, withoutEmpty } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { CommandDeed } from '../../parts/deed.tsx';
import { Choice, Field } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { go } from '../../router.tsx';
import {
  lawOf,
  lawOptions,
  readBackZone,
  weightUnitOptions,
  zoneHere,
  zones,
} from '../farm/holding-words.ts';

/** Where a law is of one clock. */
const ZONE_OF_LAW: Readonly<Record<string, string>> = { gb: 'Europe/London', ni: 'Europe/London' };

/** The zone of this computer, or nothing where it only keeps universal time: that is the clock of no farm. */
function zoneOfComputer(): string {
  const zone = zoneHere();
  return /^(?:Etc\/)?(?:UTC|UCT|GMT|Universal|Zulu)$/.test(zone) ? '' : zone;
}

/**
 * An empty book: whose it is, where the animals are, who keeps them. Asked in one form because nothing can be
 * written before all three are known; everything else can wait.
 */
export default function FirstRun() {
  const form = useForm('first-run', {
    'business.name': '',
    'business.address': '',
    'business.phone': '',
    'holding.number': '',
    'holding.zone': zoneOfComputer(),
    'holding.law': '',
    'holding.weightUnit': 'kg',
    'keeper.name': '',
  });
  const write = useWrite('start-book', async () => {
    await form.drop();
    go({ to: 'today' }, { replace: true });
  });
  const { values } = form;
  // A computer that keeps universal time says nothing of where it stands; where a law has one clock, that is offered.
  const chooseLaw = (law: string) => {
    const zone = ZONE_OF_LAW[law];
    form.set({
      'holding.law': law,
      ...(values['holding.zone'] === '' && zone !== undefined ? { 'holding.zone': zone } : {}),
    });
  };

  const send = () => {
    const required = [
      ['business.name', 'Write the name of the farm or business.'],
      ['business.address', 'Write the address.'],
      ['holding.number', 'Write the number the authority gave the holding.'],
      ['holding.law', 'Choose the law the book is kept under.'],
      ['holding.zone', 'Write the time zone, as in Europe/London.'],
      ['keeper.name', 'Write who keeps the animals.'],
    ] as const;
    const missing = required.filter(([name]) => values[name].trim() === '');
    if (missing.length > 0) return form.show(missing.map(([field, message]) => ({ field, message })));
    void write.send({
      // Nobody is in the book yet; the desk puts the keeper's name under the first entries.
      by: 'keeper',
      business: {
        name: values['business.name'],
        address: values['business.address'],
        ...withoutEmpty({ phone: values['business.phone'] }),
      },
      holding: {
        name: values['business.name'],
        number: values['holding.number'],
        address: values['business.address'],
        zone: values['holding.zone'],
        law: lawOf(values['holding.law']) ?? 'other',
        weightUnit: values['holding.weightUnit'] === 'lb' ? 'lb' : 'kg',
      },
      keeper: { name: values['keeper.name'], roles: ['owner', 'keeper'] },
    });
  };

  return (
    <div className="page page-alone">
      <main id="main">
        <Screen
          title="A new book"
          lead="Foldbook keeps the medicine cabinet and the treatment book of a sheep farm. Before the first line is written it needs to know whose book it is. All of this can be changed later."
          deeds={
            <>
              <span>Only a dose or a period to work out? That needs no book.</span>
              <CommandDeed id="work-out" />
            </>
          }
        >
          <Form form={form} write={write} deed="Begin the book" onSend={send}>
            <Section title="Whose book">
              <Field {...form.text('business.name')} label="Name of the farm or business" />
              <Field
                {...form.text('business.address')}
                label="Address"
                lines={3}
                hint="As it should stand on papers. If a holding lies elsewhere, its own address can be written later."
              />
              <Field {...form.text('business.phone')} label="Telephone" optional inputMode="tel" size={20} />
            </Section>
            <Section title="The holding">
              <Field
                {...form.text('holding.number')}
                label="Holding number"
                hint="The number the authority gave the place where the animals are."
                size={20}
              />
              <Choice
                {...form.text('holding.law')}
                onChange={chooseLaw}
                label="Which law is the book kept under?"
                hint="It decides what the book must record, and how long an animal is held when a medicine was used otherwise than its label says."
                options={lawOptions}
              />
              <Choice
                {...form.text('holding.weightUnit')}
                label="Weights are in"
                options={weightUnitOptions}
              />
              <Field
                {...form.text('holding.zone')}
                label="Time zone"
                hint="Periods are counted on the clock of this place."
                list={zones()}
                readBack={readBackZone(values['holding.zone'])}
              />
            </Section>
            <Section title="The keeper">
              <Field
                {...form.text('keeper.name')}
                label="Who keeps the animals?"
                hint="This person's name goes under what is written. Others are added on Farm."
              />
            </Section>
          </Form>
        </Screen>
      </main>
    </div>
  );
}
