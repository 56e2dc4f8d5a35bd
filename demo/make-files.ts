import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { demoFiles } from './flock/files.ts';

// node demo/make-files.ts: writes the CSV files of the demo anew, after its flock was changed.
for (const { name, bytes } of demoFiles()) {
  writeFileSync(path.join(import.meta.dirname, 'files', name), bytes);
  process.stdout.write(`${name}: ${bytes.length} bytes\n`);
}
