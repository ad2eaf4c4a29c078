import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import './look/fonts.css';
import './look/tokens.css';
import './look/base.css';
import './parts/parts.css';
import './parts/forms.css';
import './figure/figure.css';
import './ledger/ledger.css';
import './shell/shell.css';
import { startTheme } from './parts/theme.ts';
import { App } from './shell/app.tsx';
import { holdDroppedFiles } from './shell/hold-dropped-files.ts';

startTheme();
holdDroppedFiles();
const place = document.getElementById('bench');
if (place === null) throw new Error('The page has no place for the bench.');
createRoot(place).render(
  <StrictMode>
    <App />
  </StrictMode>,
);
