import { existsSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { type Browser, chromium } from 'playwright-core';

/** What to say where a test needs a browser and none is found. */
export const howToGetBrowser =
  'No browser was found: install Chromium (Debian: apt-get install chromium), or set CHROMIUM to the path of a Chromium, Chrome or Edge.';

interface FoundBrowser {
  readonly path: string;
  readonly arguments: readonly string[];
}

const programs = [
  'chromium',
  'chromium-browser',
  'google-chrome',
  'google-chrome-stable',
  'microsoft-edge',
  'microsoft-edge-stable',
  'chrome.exe',
  'msedge.exe',
];

const usualPlaces = [
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge',
  ...[process.env.PROGRAMFILES, process.env['PROGRAMFILES(X86)'], process.env.LOCALAPPDATA].flatMap(
    (folder) =>
      folder === undefined
        ? []
        : [
            join(folder, 'Google/Chrome/Application/chrome.exe'),
            join(folder, 'Microsoft/Edge/Application/msedge.exe'),
          ],
  ),
];

/** Starts a browser without a window; undefined where there is none (see `howToGetBrowser`). Close it at the end. */
export async function launchBrowser(): Promise<Browser | undefined> {
  const found = await findBrowser();
  if (found === undefined) return undefined;
  return chromium.launch({ executablePath: found.path, args: [...found.arguments] });
}

/** The variable CHROMIUM, then an installed browser, then one that came as a package. */
async function findBrowser(): Promise<FoundBrowser | undefined> {
  // As root, Chromium refuses to start with its sandbox.
  const needed = process.getuid?.() === 0 ? ['--no-sandbox'] : [];
  const named = process.env.CHROMIUM;
  if (named !== undefined && named !== '') return { path: named, arguments: needed };
  const folders = (process.env.PATH ?? '').split(delimiter).filter((folder) => folder !== '');
  const candidates = programs.flatMap((program) => folders.map((folder) => join(folder, program)));
  const path = [...candidates, ...usualPlaces].find((place) => existsSync(place));
  return path === undefined ? findPackaged() : { path, arguments: needed };
}

/** The browser of the npm package `@sparticuz/chromium`, which is too large for everyone to have. */
async function findPackaged(): Promise<FoundBrowser | undefined> {
  const name: string = '@sparticuz/chromium';
  try {
    const { default: packaged }: { default: Packaged } = await import(name);
    return { path: await packaged.executablePath(), arguments: packaged.args };
  } catch {
    return undefined;
  }
}

interface Packaged {
  readonly args: readonly string[];
  executablePath(): Promise<string>;
}
