import './treat.css';
import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { useLocation, useParams } from '../../router.tsx';
import { Closed } from './closed.tsx';
import { RunMass } from './mass.tsx';
import { RunEach } from './run.tsx';

/** One session: at the race while it is open, what came of it when it is closed. */
export default function SessionScreen() {
  const { session: id } = useParams('treat/session/:session');
  const { query } = useLocation();
  const call = useCall('session', { session: id });
  return (
    <Await call={call} what="Opening the session">
      {(session) => {
        if (session.session.state === 'closed') return <Closed id={id} session={session} />;
        // A mass run may still take one animal by itself.
        if (session.session.mode === 'mass' && query.way !== 'each')
          return <RunMass id={id} session={session} />;
        return <RunEach id={id} session={session} />;
      }}
    </Await>
  );
}
