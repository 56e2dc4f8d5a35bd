import { cpSync, existsSync } from 'node:fs';
import path from 'node:path';
import type { Desk } from '../../src-main/desk-type.ts';
import { type LoopbackHost, serveDesk } from '../../src-main/host-loopback/server.ts';
import { prepareScreens } from './setup.ts';

/**
 * Serves a desk with a copy of the built screens that nobody builds anew: what runs for minutes would otherwise
 * lose its files when somebody changes a screen meanwhile.
 * @param folder a temporary folder of the caller, who takes it away
 */
export async function serveOwnScreens(desk: Desk, folder: string): Promise<LoopbackHost> {
  const screens = path.join(folder, 'screens');
  if (!existsSync(screens)) cpSync(await prepareScreens(), screens, { recursive: true });
  return serveDesk({ desk, screens });
}
