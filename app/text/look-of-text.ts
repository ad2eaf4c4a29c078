import { HighlightStyle, syntaxHighlighting } from '@codemirror/language';
import type { Extension } from '@codemirror/state';
import { EditorView } from '@codemirror/view';
import { tags } from '@lezer/highlight';

/** The editor in the colours of the screens, light and dark alike: it has none of its own. */
export const lookOfText: Extension = [
  EditorView.theme({
    '&': { height: '100%', fontSize: '0.8125rem', backgroundColor: 'var(--sheet)', color: 'var(--ink)' },
    '&.cm-focused': { outline: 'none' },
    '.cm-scroller': { fontFamily: 'ui-monospace, "Liberation Mono", monospace', lineHeight: '1.55' },
    '.cm-content': { caretColor: 'var(--ink)' },
    '.cm-cursor': { borderLeftColor: 'var(--ink)' },
    '&.cm-focused > .cm-scroller > .cm-selectionLayer .cm-selectionBackground, .cm-selectionBackground': {
      backgroundColor: 'var(--accent-soft)',
    },
    '.cm-gutters': { backgroundColor: 'var(--sheet)', color: 'var(--quiet)', border: '0' },
    '.cm-activeLineGutter': { backgroundColor: 'transparent', color: 'var(--ink)' },
    '.cm-tooltip': {
      border: '1px solid var(--edge)',
      borderRadius: 'var(--radius)',
      backgroundColor: 'var(--raised)',
      color: 'var(--ink)',
      boxShadow: 'var(--shadow)',
    },
    '.cm-tooltip.cm-tooltip-autocomplete > ul > li[aria-selected]': {
      backgroundColor: 'var(--accent)',
      color: 'var(--on-accent)',
    },
    '.cm-completionMatchedText': { textDecoration: 'none', fontWeight: '600' },
    '.cm-completionInfo': { padding: '0.5rem 0.75rem', fontFamily: 'var(--sans)', maxWidth: '20rem' },
    '.cm-diagnostic': { padding: '0.4rem 0.75rem', fontFamily: 'var(--sans)', borderLeftWidth: '3px' },
    '.cm-diagnostic-error': { borderLeftColor: 'var(--bad)' },
    '.cm-diagnostic-warning': { borderLeftColor: 'var(--doubt)' },
    '.cm-lintRange-error': {
      backgroundImage: 'none',
      textDecoration: 'underline wavy var(--bad)',
      textUnderlineOffset: '0.2em',
    },
    '.cm-lintRange-warning': {
      backgroundImage: 'none',
      textDecoration: 'underline wavy var(--doubt)',
      textUnderlineOffset: '0.2em',
    },
  }),
  syntaxHighlighting(
    HighlightStyle.define([
      { tag: tags.definition(tags.propertyName), color: 'var(--accent)' },
      { tag: tags.lineComment, color: 'var(--quiet)', fontStyle: 'italic' },
      { tag: [tags.labelName, tags.typeName, tags.keyword], color: 'var(--doubt)' },
      { tag: [tags.separator, tags.brace, tags.squareBracket, tags.punctuation], color: 'var(--quiet)' },
    ]),
  ),
];
