import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';

/**
 * Shows an address in the user's browser through the system's own opener.
 *
 * @returns false where there is no screen to show it on
 */
export function showAddress(address: string): boolean {
  const opener = openerOf(process.platform, process.env);
  if (opener === null) return false;
  const [program, ...args] = opener;
  const child = spawn(program, [...args, address], { stdio: 'ignore', detached: true });
  child.on('error', () => undefined);
  child.unref();
  return true;
}

/** The program and its first arguments; null where nobody would see a window. */
function openerOf(
  platform: NodeJS.Platform,
  variables: Readonly<Record<string, string | undefined>>,
): readonly [string, ...string[]] | null {
  if (platform === 'darwin') return ['open'];
  if (platform === 'win32') return ['rundll32', 'url.dll,FileProtocolHandler'];
  // A Linux inside Windows has no screen of its own.
  if (existsSync('/proc/sys/fs/binfmt_misc/WSLInterop')) return ['wslview'];
  const hasScreen = (variables.DISPLAY ?? '') !== '' || (variables.WAYLAND_DISPLAY ?? '') !== '';
  return hasScreen ? ['xdg-open'] : null;
}
