import { type Block, listInlines, paragraph, question } from '../document/index.ts';
import type { Desk } from './desk.ts';
import { resultValue } from './numbers.ts';
import { type Section, section } from './section.ts';

/** What to do next: other equipment with a prediction, an effect in the model, the results of all groups together. */
export function draftExtension(desk: Desk): Section {
  const { phrases, gathered, lab, names } = desk;
  const { questions } = phrases;
  const [result] = lab.results;
  const blocks: Block[] = [paragraph(questions.extendIntroduction)];
  if (result !== undefined) {
    const symbol = names.symbol(result.name);
    for (const { kit, expected } of gathered.kits) {
      const own = gathered.own.results.find((candidate) => candidate.result === result);
      const other = expected.results.find((candidate) => candidate.result === result);
      if (own === undefined || other === undefined) continue;
      const answer = questions.kitIs(symbol, resultValue(result, other.full), resultValue(result, own.full));
      const is = names.words(kit.is === '' ? kit.name : kit.is);
      blocks.push(question(questions.tryKit(is, symbol), 2, paragraph(...answer)));
    }
    const pooled = new Set(
      gathered.stations.flatMap(({ station }) => station.set.map(({ quantity }) => quantity.name)),
    );
    if (pooled.size > 0) {
      const quantities = listInlines(
        [...pooled].map((name) => names.symbol(name)),
        phrases.documents.and,
      );
      blocks.push(question(questions.pool(symbol, quantities), 2));
    }
  }
  const switchOn =
    lab.model.kind === 'relation'
      ? questions.switchOnLaw
      : gathered.handSteps === null
        ? questions.switchOnPlain
        : questions.switchOn;
  if (lab.effects.length > 0) blocks.push(question([{ kind: 'text', text: switchOn }], 2));
  return section('extension', ...blocks);
}
