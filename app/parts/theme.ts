import { useSyncExternalStore } from 'react';
import { darkTheme, lightTheme, type Theme } from '../../src/figure/index.ts';

export type ThemeName = 'light' | 'dark';
/** What a person chose; 'system' follows the device. */
type ThemeChoice = ThemeName | 'system';

const KEY = 'benchwright/theme';
const device = matchMedia('(prefers-color-scheme: dark)');
const listeners = new Set<() => void>();
let choice: ThemeChoice = readChoice();

function readChoice(): ThemeChoice {
  try {
    const kept = localStorage.getItem(KEY);
    return kept === 'light' || kept === 'dark' ? kept : 'system';
  } catch {
    return 'system';
  }
}

function current(): ThemeName {
  if (choice !== 'system') return choice;
  return device.matches ? 'dark' : 'light';
}

function apply(): void {
  document.documentElement.dataset.theme = current();
  for (const listener of listeners) listener();
}

/** Puts the theme on before anything is drawn, and follows the device from then on. */
export function startTheme(): void {
  device.addEventListener('change', apply);
  apply();
}

export function chooseTheme(next: ThemeChoice): void {
  choice = next;
  try {
    if (next === 'system') localStorage.removeItem(KEY);
    else localStorage.setItem(KEY, next);
  } catch {
    // A browser that keeps nothing has the choice until the page is closed.
  }
  apply();
}

function subscribe(listener: () => void): () => void {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

export function useThemeName(): ThemeName {
  return useSyncExternalStore(subscribe, current);
}

/** The theme of the figures, the same as in documents. */
export function useFigureTheme(): Theme {
  return useThemeName() === 'dark' ? darkTheme : lightTheme;
}
