import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { Script } from 'node:vm';
import { defineConfig, type Plugin } from 'vite';

const own = (name: string): string => readFileSync(new URL(name, import.meta.url), 'utf8');

/** Puts style and script into the frame. What stays open is the lab, which publishing puts in. */
function oneFile(): Plugin {
  return {
    name: 'one-file',
    generateBundle(_, bundle) {
      for (const [name, part] of Object.entries(bundle)) {
        if (part.type !== 'chunk' || !part.isEntry)
          throw new Error(`The explorer is one script, not ${name}.`);
        // Within a script these begin what would end it, or hide its end.
        const program = part.code.replace(/<(?=\/script|script|!--)/gi, '\\x3C');
        // Outside of a text the escape would be a mistake: then there is no explorer rather than a broken one.
        new Script(program);
        const digest = createHash('sha256').update(program, 'utf8').digest('base64');
        const policy = `default-src 'none'; script-src 'sha256-${digest}' 'wasm-unsafe-eval'; worker-src blob:; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'`;
        const source = own('./explorer.html')
          .replace('@policy@', () => policy)
          .replace('@style@', () => own('./page.css'))
          .replace('"@program@"', () => program);
        delete bundle[name];
        this.emitFile({ type: 'asset', fileName: 'explorer.html', source });
      }
    },
  };
}

/** The explorer without a lab: one file beside the command. */
export default defineConfig({
  root: fileURLToPath(new URL('.', import.meta.url)),
  publicDir: false,
  plugins: [oneFile()],
  build: {
    outDir: '../dist',
    emptyOutDir: false,
    target: 'es2022',
    modulePreload: false,
    rolldownOptions: {
      input: fileURLToPath(new URL('./main.ts', import.meta.url)),
      output: { format: 'iife', codeSplitting: false },
    },
  },
});
