import { defineConfig } from 'tsdown';

export default defineConfig({
  entry: {
    cli: 'src/cli/main.ts',
    index: 'src/index.ts',
    'document-thread': 'src/server/document-thread.ts',
  },
  format: 'esm',
  platform: 'node',
  target: 'node20',
  dts: false,
  clean: true,
  outDir: 'dist',
});
