import type { english, Miscount } from './english.ts';

const MISCOUNTS: Readonly<Record<Miscount, string>> = {
  fewer: 'zu wenige',
  more: 'zu viele',
  twice: 'doppelt so viele',
  half: 'halb so viele',
};

const COUNTED = {
  marks: { plural: 'Marken des Rades', dative: 'die Marken des Rades' },
  periods: { plural: 'Schwingungen', dative: 'die Schwingungen' },
} as const;

/** Everything that marking says, in German. */
export const german: typeof english = {
  decimalMark: ',',
  slips: {
    diameterForRadius: (symbol, what) => ({
      name: `Durchmesser statt Radius (${symbol})`,
      is: `für ${what} wird der Durchmesser eingesetzt`,
      helps: `${symbol} ist ein Radius: die Hälfte dessen, was ein Messschieber quer zeigt.`,
    }),
    radiusForDiameter: (symbol, what) => ({
      name: `Radius statt Durchmesser (${symbol})`,
      is: `für ${what} wird der Radius eingesetzt`,
      helps: `${symbol} ist ein Durchmesser: das Doppelte des Radius.`,
    }),
    degreesForRadians: (symbol, what, unit) => ({
      name: `Grad statt Bogenmaß (${symbol})`,
      is: `${what} wird in ${unit} eingesetzt, wo Bogenmaß gemeint ist`,
      helps: 'Den Rechner auf die Einheit des Winkels einstellen oder vorher umrechnen.',
    }),
    radiansForDegrees: (symbol, what) => ({
      name: `Bogenmaß statt Grad (${symbol})`,
      is: `${what} wird im Bogenmaß eingesetzt, wo Grad gemeint ist`,
      helps: 'Den Rechner auf die Einheit des Winkels einstellen oder vorher umrechnen.',
    }),
    gramsForKilograms: (symbol, what, unit) => ({
      name: `Gramm statt Kilogramm (${symbol})`,
      is: `${what} wird in ${unit} eingesetzt, wo kg gemeint ist`,
      helps: `${symbol} vor dem Einsetzen in kg umrechnen.`,
    }),
    unitForMetres: (symbol, what, unit) => ({
      name: `${unit} statt Meter (${symbol})`,
      is: `${what} wird in ${unit} eingesetzt, wo m gemeint ist`,
      helps: `${symbol} vor dem Einsetzen in m umrechnen.`,
    }),
    largeForSmall: (symbol, what, large, small) => ({
      name: `${large} statt ${small} (${symbol})`,
      is: `${what} wird in ${large} eingesetzt, wo ${small} gemeint ist`,
      helps: `Nachsehen, in welcher Einheit ${symbol} gefragt ist.`,
    }),
    halfForWhole: (symbol, what) => ({
      name: `Hälfte statt Ganzes (${symbol})`,
      is: `die Hälfte von ${what} wird für das Ganze genommen`,
      helps: `Nachsehen, von wo bis wo ${symbol} gemessen wird.`,
    }),
    wholeForHalf: (symbol, what) => ({
      name: `Ganzes statt Hälfte (${symbol})`,
      is: `das Doppelte von ${what} wird genommen`,
      helps: `Nachsehen, von wo bis wo ${symbol} gemessen wird.`,
    }),
    gravityRounded: () => ({
      name: 'g auf 10 gerundet',
      is: 'g wird auf 10 m/s² gerundet',
      helps: 'Das kostet zwei Prozent; den örtlichen Wert nehmen.',
    }),
    hangerForgotten: (symbol, what) => ({
      name: `Halter vergessen (${symbol})`,
      is: `${what} wird vergessen`,
      helps: 'Auch was die Massenstücke hält, wird von der Schwerkraft gezogen.',
    }),
    baseUnitReported: (symbol, written, unit) => ({
      name: `SI-Einheit statt ${written} (${symbol})`,
      is: `${symbol} wird in der SI-Einheit angegeben, wo ${unit} gefragt ist`,
      helps: `${symbol} in ${unit} umrechnen.`,
    }),
    miscounted: (what, how, to, right) => ({
      name: `${MISCOUNTS[how]} ${COUNTED[what].plural} gezählt`,
      is: `es werden ${to} ${COUNTED[what].plural} eingesetzt, wo es ${right} sind`,
      helps: `Noch einmal ${COUNTED[what].dative} zählen.`,
    }),
    firstEdgeMissed: (instrument) => ({
      name: `erste Flanke verpasst (${instrument})`,
      is: `die erste Flanke von „${instrument}“ wird nicht aufgezeichnet, also wird jeder Ort um einen Abstand zu klein gezählt`,
      helps: 'Die Lichtschranke vor dem Loslassen scharf stellen oder die versäumten Marken mitzählen.',
    }),
    millisecondsForSeconds: (instrument) => ({
      name: `Millisekunden statt Sekunden (${instrument})`,
      is: `Zeiten von „${instrument}“ in Millisekunden werden für Sekunden genommen`,
      helps: 'Nachsehen, in welcher Einheit das Messgerät seine Zeiten schreibt.',
    }),
    windowNotKept: () => ({
      name: 'Bereich nicht eingehalten',
      is: 'Messwerte außerhalb des Bereichs, in dem das Modell gilt, werden mitgenommen',
      helps: 'Den Teil des Laufs nehmen, nach dem gefragt ist.',
    }),
    zeroNotSet: () => ({
      name: 'Nullpunkt nicht gesetzt',
      is: 'der Nullwert des Messgeräts wird nicht abgezogen',
      helps: 'Vor dem Lauf auf null stellen oder den Mittelwert davor abziehen.',
    }),
    edgeAtEnd: () => ({
      name: 'Flanke am Ende des Abschnitts',
      is: 'die mittlere Geschwindigkeit jedes Abschnitts wird an sein Ende statt in seine Mitte gesetzt',
      helps: 'Eine mittlere Geschwindigkeit gehört in die Mitte ihres Abschnitts.',
    }),
    halfPeriod: () => ({
      name: 'halbe statt ganze Periode',
      is: 'die Zeit von einem Durchgang zum nächsten wird für die Periode genommen',
      helps: 'Eine Periode endet, wenn das Pendel wieder in derselben Richtung durchgeht.',
    }),
    twoPeriods: () => ({
      name: 'zwei Perioden statt einer',
      is: 'die Zeit zweier Schwingungen wird für die Periode genommen',
      helps: 'Zählen, wenn es in derselben Richtung durchgeht, und mit null beginnen.',
    }),
    slopeUpsideDown: (symbol) => ({
      name: `Steigung auf dem Kopf (${symbol})`,
      is: `${symbol} wird als waagrechte durch senkrechte Strecke abgelesen`,
      helps: 'Die Steigung ist die Änderung nach oben durch die Änderung nach rechts.',
    }),
  },
  and: ' und ',
  correct: 'richtig',
  unknown: 'nichts Bekanntes',
  effect: (effect, times) => `${effect}, ${times}-mal so groß`,
  asExpected: (names, count, bands) => `${names} ${count === 1 ? 'ist' : 'sind'} wie erwartet: ${bands}.`,
  comesOut: (names, count, slipped) =>
    `${names} ${count === 1 ? 'ist' : 'sind'} das, was bei diesem Versehen herauskommt: ${slipped}.`,
  andWhen: '; dazu: ',
  slipNamed: (name) => `„${name}“`,
  larger: (names, effect, times) =>
    `${names} ergäbe sich, wenn „${effect}“ etwa ${times}-mal so groß wäre wie angenommen. An dieser Apparatur nachmessen.`,
  nothingGives: (count) =>
    `Kein hier bekanntes Versehen und kein Effekt in vernünftigen Grenzen ergibt ${count === 1 ? 'diese Zahl' : 'diese Zahlen'}. Die Messwerte gemeinsam durchgehen.`,
  groupsFind: (name, low, high, unit) =>
    `95 % der Gruppen finden ${name} zwischen ${low} und ${high}${unit === '' ? '' : ` ${unit}`}`,
  lies: (name, isWithin, low, high, unit) =>
    `${name} liegt ${isWithin ? 'in' : 'außerhalb von'} dem, was 95 % der Gruppen finden, ${low} … ${high}${unit === '' ? '' : ` ${unit}`}`,
  fromData: (values) => `Die Messwerte geben, richtig ausgewertet, ${values}.`,
  list: {
    title: (lab) => `${lab}: was die Gruppen angegeben haben`,
    about:
      'Was jede Gruppe angegeben hat und was es ergeben würde. Der Anteil sagt, wie viel von allem, was erwogen wurde, für die erste Ursache spricht: eine Hilfe für ein Gespräch, keine Note.',
    group: 'Gruppe',
    station: 'Station',
    looksLike: 'wonach es aussieht',
    share: 'Anteil',
    orElse: 'oder',
    whatToSay: 'was zu sagen ist',
    notRead: 'nicht gelesen',
  },
};
