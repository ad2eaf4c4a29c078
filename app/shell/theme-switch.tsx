import { chooseTheme, useThemeName } from '../parts/theme.ts';

/** Light or dark; until somebody chooses, as the device has it. */
export function ThemeSwitch() {
  const name = useThemeName();
  const other = name === 'dark' ? 'light' : 'dark';
  return (
    <button type="button" className="button plain" onClick={() => chooseTheme(other)}>
      {other === 'dark' ? 'Dark' : 'Light'}
      <span className="unseen"> theme</span>
    </button>
  );
}
