import { type RichText, symbolText } from '../../src/figure/index.ts';

/** A line of text with exponents, indices and symbols in italics, as the figures have it. */
export function Rich({ text }: { readonly text: RichText }) {
  return text.map((run, index) => {
    const styled = run.style === 'italic' ? <i>{run.text}</i> : run.text;
    if (run.level === 'raised') return <sup key={index}>{styled}</sup>;
    if (run.level === 'lowered') return <sub key={index}>{styled}</sub>;
    return <span key={index}>{styled}</span>;
  });
}

/** The symbol of a quantity, a state or a result, typeset; a screen reader hears the name in the file. */
export function SymbolName({ name }: { readonly name: string }) {
  return (
    <span className="symbol">
      <span aria-hidden="true">
        <Rich text={symbolText(name)} />
      </span>
      <span className="unseen">{name}</span>
    </span>
  );
}
