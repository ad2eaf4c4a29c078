import type { Bars, Phrases, Trend } from './phrases.ts';
import { joinText } from './rich-text.ts';

const BARS: Readonly<Record<Bars, string>> = {
  none: '',
  up: ', mit senkrechten Balken von einer Standardunsicherheit',
  across: ', mit waagerechten Balken von einer Standardunsicherheit',
  both: ', mit Balken von einer Standardunsicherheit in beiden Richtungen',
};

const TRENDS: Readonly<Record<Trend, string>> = {
  rising: 'steigt',
  falling: 'fällt',
  varying: 'schwankt',
  level: 'bleibt',
};

export const germanPhrases: Phrases = {
  measured: 'gemessen',
  full: 'volles Modell',
  ideal: 'ideales Modell',
  theory: 'Theorie',
  residual: 'Residuum',
  line: 'Gerade',
  fittedCurve: 'Ausgleich',
  remainder: 'Rest',
  rehearsals: 'Proben',
  central95: 'mittlere 95 %',
  step: 'Zeitschritt',
  tenthOfUncertainty: 'ein Zehntel der Unsicherheit',
  steppers: {
    'forward-euler': 'Euler vorwärts',
    'semi-implicit-euler': 'Euler halbimplizit',
    midpoint: 'Mittelpunkt',
    'fourth-order': 'vierte Ordnung',
  },
  phenomenon: 'Vorgang',
  reduction: 'Auswertung',
  results: 'Ergebnisse',
  states: 'Zustände',
  quantities: 'Größen',
  effects: 'Einflüsse',
  readings: 'Messwerte',
  schematicNote: 'Schema, aus der Versuchsdatei erzeugt: was worauf wirkt, nicht wie es aussieht.',
  thinned:
    'Es gibt mehr Werte, als sich zeichnen lassen; gezeigt sind an jeder Stelle mindestens der höchste und der niedrigste.',
  plusMinusUncertainty: (name) => `${name} ± Standardunsicherheit`,
  standardUncertaintyOf: (quantity) => `Standardunsicherheit von ${quantity}`,
  from: 'von',
  to: 'bis',
  count: 'Anzahl',
  row: 'Zeile',
  against: (y, x) => `${y} über ${x}`,
  errorOf: (result) => joinText('Fehler von ', result),
  failing: (condition) => `nicht mehr erfüllt: ${condition}`,
  settingTitle: (result, setting) => `${result} bei verschiedenem ${setting}`,
  ledgerTitle: (result) => `Lückenbilanz von ${result}`,
  kitsTitle: (result) => `${result} mit anderem Gerät`,
  asGiven: 'wie angegeben',
  mapTitle: ({ measure, first, second }) =>
    second === null ? `${measure} über ${first}` : `${measure} über ${first} und ${second}`,
  rehearsalTitle: (result) => `${result} in den Proben`,
  stepsTitle: (result) => `Fehler von ${result} über dem Zeitschritt`,
  validityTitle: (state) => `Wo das Modell gilt: ${state} über der Zeit`,
  schematicTitle: (lab) => `Schema des Versuchs: ${lab}`,
  more: (count) => `und ${count} weitere`,
  verdicts: {
    explained: 'Nichts bleibt zu erklären: Der Rest liegt innerhalb seiner Unsicherheit.',
    doubtful: 'Zweifelhaft: So groß macht der Zufall den Rest nicht oft.',
    unexplained: 'Etwas fehlt: Der Rest ist größer, als alle angegebenen Unsicherheiten erlauben.',
    unknown: 'Nicht zu beurteilen: Es ist keine Unsicherheit angegeben, an der sich der Rest messen ließe.',
  },

  sayPoints: ({ count, name, y, x, bars }) =>
    `${count} ${count === 1 ? 'Punkt' : 'Punkte'} (${name}) von ${y} über ${x}${BARS[bars]}.`,
  saySeries: ({ name, y, x }) => `Eine Linie (${name}) von ${y} über ${x}.`,
  sayRange: ({ y, fromY, toY, trend, x, fromX, toX }) =>
    trend === 'varying'
      ? `Zwischen ${x} = ${fromX} und ${toX} schwankt ${y} zwischen ${fromY} und ${toY}.`
      : trend === 'level'
        ? `Von ${x} = ${fromX} bis ${toX} bleibt ${y} bei ${fromY}.`
        : `Von ${x} = ${fromX} bis ${toX} ${TRENDS[trend]} ${y} von ${fromY} auf ${toY}.`,
  sayNothing: () => 'Noch gibt es nichts zu zeigen.',
  sayParameters: (parameters) =>
    `Der Ausgleich hat ${listed(parameters.map(({ name, value }) => `${name} = ${value}`))}.`,
  sayResiduals: (within) => `Die Residuen bleiben innerhalb von ±${within}.`,
  sayDifference: ({ name, reference, low, high }) =>
    `Die Differenz ${name} minus ${reference} liegt zwischen ${low} und ${high}.`,
  sayKit: ({ kit, result, expected, theory }) =>
    `${capital(kit)}: ${result} = ${expected}${theory === null ? '' : `; die Theorie gibt ${theory}`}.`,
  sayMap: ({ measure, least, atLeast, greatest, atGreatest }) =>
    `${measure} liegt zwischen ${least} (bei ${atLeast}) und ${greatest} (bei ${atGreatest}).`,
  sayLevel: ({ name, value }) => `${capital(name)}: ${value}.`,
  sayEffects: ({ result, effects }) =>
    effects.length === 0
      ? 'Der Versuch nennt keine Einflüsse.'
      : `Die Einflüsse ändern ${result} um: ${effects.map(({ name, change }) => `${name}, ${change}`).join('; ')}.`,
  sayShifts: ({ result, steps }) =>
    `Zwischen Theorie und idealem Modell verschieben Schritte der Auswertung ${result} um: ${steps.map(({ name, change }) => `${name}, ${change}`).join('; ')}.`,
  sayRemainder: ({ value, inUncertainties, verdict }) =>
    `Rest: ${value}${inUncertainties === null ? '' : `, das ${inUncertainties}-Fache seiner Standardunsicherheit`}. ${germanPhrases.verdicts[verdict]}`,
  sayHistogram: ({ count, result, mean, spread, low, high }) =>
    `Histogramm von ${result} in ${count} Proben: Mittelwert ${mean}, Standardabweichung ${spread}, 95 % davon zwischen ${low} und ${high}.`,
  sayStepper: ({ name, atSmallest, smallest, atLargest, largest }) =>
    `${capital(name)}: Der Fehler wächst von ${atSmallest} beim Schritt ${smallest} auf ${atLargest} bei ${largest}.`,
  sayGoodStep: ({ name, step }) =>
    step === null
      ? `Mit „${name}“ hält kein versuchter Schritt den Fehler unter einem Zehntel der Unsicherheit.`
      : `Mit „${name}“ halten Schritte bis ${step} den Fehler unter einem Zehntel der Unsicherheit.`,
  sayHolds: (condition) => `Die Bedingung „${condition}“ ist durchweg erfüllt.`,
  sayFails: ({ condition, at, state }) =>
    `Die Bedingung „${condition}“ ist zuerst bei ${at} nicht mehr erfüllt, dort ist ${state}; die Zeit danach ist schraffiert.`,
  sayBlocks: (blocks) =>
    `Blöcke von links nach rechts, durch Pfeile verbunden: ${blocks
      .map(({ heading, lines }) => (lines.length === 0 ? heading : `${heading} (${lines.join('; ')})`))
      .join(', dann ')}.`,
};

function listed(parts: readonly string[]): string {
  if (parts.length < 2) return parts.join('');
  return `${parts.slice(0, -1).join(', ')} und ${parts.at(-1)}`;
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
