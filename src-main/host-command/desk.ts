import { runDesk } from './run-desk.ts';

/** npm run desk: the desk from a terminal. */
const { code, out, err } = await runDesk(process.argv.slice(2));
process.stdout.write(out);
process.stderr.write(err);
process.exitCode = code;
