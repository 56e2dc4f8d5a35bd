import { CommandDeed } from '../../parts/deed.tsx';
import { Screen } from '../../parts/screen.tsx';
import { WhyMany } from './why.tsx';

/** The whole flock on a line of time: what holds whom, and until when. */
export default function HeldScreen() {
  return (
    <Screen
      title="Who is held, and why"
      lead="Each reason once, over all who are here; below it each animal and lot that is held."
      deeds={<CommandDeed id="clear-list" />}
    >
      <WhyMany most={200} />
    </Screen>
  );
}
