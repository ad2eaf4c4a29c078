import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';

/** The screens, built into the package beside the command; everything is served by the local server alone. */
export default defineConfig({
  root: fileURLToPath(new URL('.', import.meta.url)),
  base: '/',
  publicDir: false,
  worker: { format: 'es' },
  build: {
    outDir: '../dist/app',
    emptyOutDir: true,
    target: 'es2022',
    // A font or picture written into a style sheet as data would be refused by the content security policy.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
  },
});
