import { autocompletion, type CompletionContext, type CompletionResult } from '@codemirror/autocomplete';
import type { Extension } from '@codemirror/state';
import { hoverTooltip } from '@codemirror/view';
import { completeLab, explainLab } from '../../src/edit/index.ts';

/** What may be written at the cursor, and what the word under the pointer says. */
export const writingHelp: Extension = [
  autocompletion({ override: [complete], icons: false, closeOnBlur: true }),
  hoverTooltip((view, at) => {
    const found = explainLab(view.state.sliceDoc(), at);
    if (found === null) return null;
    return {
      pos: found.from,
      end: found.to,
      above: true,
      create() {
        const dom = document.createElement('p');
        dom.className = 'text-says';
        const name = document.createElement('strong');
        name.textContent = found.name;
        dom.append(name, ` ${found.what}`);
        return { dom };
      },
    };
  }),
];

function complete({ state, pos, explicit }: CompletionContext): CompletionResult | null {
  const found = completeLab(state.sliceDoc(), pos);
  // Before anything is written, help waits until it is asked for.
  if (found === null || (found.from === pos && !explicit)) return null;
  return {
    from: found.from,
    to: found.to,
    filter: false,
    options: found.items.map(({ label, insert, what }) => ({
      label,
      apply: insert,
      ...(what === '' ? {} : { info: what }),
    })),
  };
}
