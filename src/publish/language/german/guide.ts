import { say } from '../../document/index.ts';
import type { guide as english } from '../english/guide.ts';

export const guide: typeof english = {
  overviewRuns: (runs, settings) =>
    settings > 1 ? `${runs} Läufe, je ${runs / settings} bei ${settings} Einstellungen.` : `${runs} Läufe.`,
  handouts: (levels) => say`Arbeitsblätter: ${levels}.`,
  expectsOf: (result, value) => say`Ein guter Lauf gibt ${result} = ${value}.`,
  theoryWould: (value) => say` Die ideale Theorie gäbe ${value}.`,
  madeUp:
    'Die Zahlen dieses Heftes sind aus der Versuchsdatei und den Beispielläufen berechnet; keine ist von Hand eingesetzt.',

  minutes: (part, minutes) => say`${part}: etwa ${minutes} min`,
  timingParts: {
    introduction: 'Frage und Vorhersage',
    setup: 'Aufbau und erster Blick',
    runs: 'Läufe',
    analysis: 'Auswertung und Vergleich',
    discussion: 'Gespräch',
  },
  timingRule: (duration) =>
    say`Ein Lauf dauert ${duration}; für Zurückstellen, Aufzeichnen und Notieren sind je Lauf drei Minuten gerechnet (übliche Praxis, ohne Quelle).`,
  timingRuleStill:
    'Für Einstellen, Ablesen und Notieren sind je Lauf drei Minuten gerechnet (übliche Praxis, ohne Quelle).',
  timingTotal: (minutes) => `Zusammen etwa ${minutes} min. Auf Gruppen verteilt brauchen die Läufe weniger.`,

  resultsCaption: (result) => say`Erwartete Werte: ${result}`,
  theory: 'ideale Theorie',
  full: 'volles Modell',
  scatter: 'Streuung eines Laufs',
  measured: (runs) => `gemessen in ${runs}`,
  sampleRuns: 'Beispielläufen',
  resultsNote:
    'Unsicherheiten sind Standardunsicherheiten. Die des vollen Modells kommt von den angegebenen Größen; die Streuung eines Laufs ist das, was die Messgeräte dazutun, aus Proben mit ihrem Rauschen.',
  rehearsedBand: (result, low, high) =>
    say`In Proben mit anderer Apparatur derselben Art liegt ${result} bei 95 von 100 Klassen zwischen ${low} und ${high} (Mittelwert aller ihrer Läufe).`,

  kitsCaption: 'Andere Geräte, und was sie ergeben',
  kit: 'Gerätesatz',
  changes: 'was sich ändert',
  ownEquipment: 'wie beschrieben',
  outlookCaption: (result) => say`Wie anderes Gerät sich macht, nach ${result} beurteilt`,
  outlookFigure: (result) =>
    say`${result} mit anderem Gerät: erwartet, mit der Streuung von Schule zu Schule, und Theorie`,
  expected: 'erwartet',
  band: '95 von 100 Schulen',
  gapToTheory: 'Lücke zur Theorie',
  inWindow: 'Ablesungen',
  willIt: 'Urteil',
  equipmentVerdicts: {
    'works well': 'geht gut',
    'works with care': 'geht mit Sorgfalt',
    'will disappoint': 'wird enttäuschen',
  },
  reasons: {
    cannotRun: 'es läuft nicht',
    fails: (share) => say`${share} der Proben misslingen`,
    fewReadings: (readings) => say`nur ${readings} Ablesungen zählen`,
    scatter: (share) => say`es streut um ${share} von Schule zu Schule`,
    gap: (share) => say`die Lücke zur Theorie ist ${share}`,
    endsEarly: (condition) => say`bald gilt nicht mehr: ${condition}`,
    hazard: 'es kann mehr verletzen: siehe die Vorsichtsmaßnahmen',
  },
  judgedSo: (care, disappoint) =>
    say`Sorgfalt ist nötig ab ${care}, enttäuschen wird es ab ${disappoint} (üblich, keine Quelle).`,
  limitsCare: (readings, scatter, gap) =>
    say`weniger als ${readings} Ablesungen, einer Streuung von ${scatter} oder einer Lücke von ${gap}`,
  bandHead: '95 von 100 Gruppen',
  pooled: (groups, result, value) =>
    say`Alle ${groups} Gruppen zusammen finden ${result} = ${value} (mit der Streuung von Klasse zu Klasse).`,
  pooledTheory: (value) => say` Die Theorie gibt ${value}.`,
  stationsCaption: 'Stationen, und was jede erhalten sollte',

  gapStart: (theory, full) =>
    say`Die ideale Theorie gibt ${theory}; mit allen Effekten gibt das Modell ${full}.`,
  gapStartIdeal: (ideal, full) => say`Das ideale Modell gibt ${ideal}; mit allen Effekten gibt es ${full}.`,
  effectByEffect: 'Effekt für Effekt:',
  reductionShift: (shift) =>
    say`Die Schritte der Auswertung selbst verschieben einen idealen Lauf um ${shift}; dieser Teil steckt in Theorie und Messung und zählt nicht als Effekt.`,
  makesLarger: (result, change, share) => say`Das macht ${result} um ${change}${share} größer.`,
  makesSmaller: (result, change, share) => say`Das macht ${result} um ${change}${share} kleiner.`,
  ofIdeal: (share) => say` (${share} des idealen Wertes)`,
  isNegligible: (result, change) => say`Das ändert ${result} kaum (${change}).`,
  measuredIs: (runs, value) => say`Gemessen in ${runs}: ${value}.`,
  remainderIs: (value, times) =>
    say`Übrig bleibt ${value}, das ${times}-fache der zugehörigen Standardunsicherheit.`,
  runs: (count) => (count === 1 ? '1 Lauf' : `${count} Läufen`),
  verdicts: {
    explained: 'Es bleibt nichts zu erklären: Der Rest liegt innerhalb seiner Unsicherheit.',
    doubtful:
      'Das ist zweifelhaft: Der Rest ist größer, als der Zufall ihn oft macht. Mehr Läufe würden es klären.',
    unexplained: 'Es fehlt etwas: Der Rest ist größer, als alle angegebenen Unsicherheiten erlauben.',
    unknown:
      'Das lässt sich nicht beurteilen: Es ist keine Unsicherheit angegeben, an der sich der Rest messen ließe.',
  },
  howShared:
    'Wo Effekte aufeinander wirken, erhält jeder das Mittel dessen, was er über alle Reihenfolgen des Einschaltens ändert; so gehen die Zeilen genau auf.',
  ledgerCaption: (result) => say`Von der idealen Theorie zur Messung: ${result}`,
  inBrackets: 'In Klammern: die Standardunsicherheit in Einheiten der letzten Stellen',
  settingCaption: (result) => say`${result} über den Einstellungen: gemessen, volles Modell und Theorie`,
  otherSettings: (result) => say`Dasselbe für die anderen Einstellungen: ${result}`,
  effect: 'Effekt',
  remainder: 'Rest',

  modelsIntroduction:
    'Mehrere Modelle wurden an den Beispielläufen gemessen. Vor den Läufen war jedes so wahrscheinlich wie das andere; das Gewicht sagt, wie wahrscheinlich es nach ihnen ist.',
  modelsCaption: 'Modelle, und das Gewicht, das die Beispielläufe jedem geben',
  model: 'Modell',
  weight: 'Gewicht',
  leftFree: 'was die Läufe von dem lassen, was es offen ließ',
  modelChosen: (best, odds, next) =>
    say`Die Läufe machen das Modell „${best}“ ${odds}-mal so wahrscheinlich wie das nächste, „${next}“.`,
  modelsPay:
    'Ein Modell, das mehr offen lässt, passt leichter; es bezahlt aber für jeden Wert, den es vergeblich erlaubt hat.',

  sampleCaption: (run) => `Der Lauf „${run}“: Messwerte, Anpassung, und was übrig bleibt`,
  readingsOverModel: (run) => `Der Lauf „${run}“: Messwerte, und was die Modelle davon erwarten`,
  stepsIntroduction:
    'Wie weit das Ergebnis der Schrittfolge von der genauen Bewegung abliegt, für die beiden Verfahren, die zum Arbeitsblatt passen:',
  stepsIntroductionOne: 'Wie weit das Ergebnis der Schrittfolge von der genauen Lösung abliegt:',
  stepsCaption: (result) => say`Fehler je nach Länge des Schrittes: ${result}`,
  step: 'Schritt',
  methods: {
    'forward-euler': 'nur alte Werte (Euler vorwärts)',
    'semi-implicit-euler': 'Geschwindigkeit zuerst (Euler halbimplizit)',
    midpoint: 'Mittelpunkt',
    'fourth-order': 'vierte Ordnung',
  },
  largestStep: (method, step) =>
    say`Längster Schritt, der den Fehler unter einem Zehntel der Messunsicherheit hält, ${method}: ${step}.`,

  slipsIntroduction: 'Jedes Versehen ging durch dieselbe Auswertung; dies kommt dabei heraus.',
  slipsCaption: 'Versehen, und welche Zahlen sie ergeben',
  slip: 'Versehen',
  gives: (result) => say`aus ${result} wird`,
  insteadOf: 'statt',
  theoryBecomes: (value) => say`Theorie: ${value}`,
  factor: 'Faktor',
  unchanged: 'unverändert',

  answersIntroduction:
    'Antworten auf die Fragen des Arbeitsblattes. Zahlen darin gelten für die Apparatur, wie sie beschrieben ist.',
  answer: 'Antwort',
  noAnswer: 'Offene Frage; auf die Gründe kommt es an.',
  troubleshootIntroduction: 'Wenn eine Klasse etwas anderes erhält:',
  tooSmall: (result, effect, change) =>
    say`${result} ist zu klein: zuerst nach „${effect}“ sehen. Ist dieser Effekt doppelt so groß wie angegeben, sinkt ${result} noch einmal um ${change}.`,
  tooLarge: (result, effect, change) =>
    say`${result} ist zu groß: zuerst nach „${effect}“ sehen. Ist dieser Effekt doppelt so groß wie angegeben, steigt ${result} noch einmal um ${change}.`,
  farOff:
    'Ein Ergebnis, das um einen ganzen Faktor danebenliegt, ist meist ein Versehen; man vergleicht es mit der Tabelle der Versehen.',
  scatters: (result, spread, look) =>
    say`Läufe, bei denen ${result} viel mehr als ${spread} streut, wurden nicht gleich aufgenommen. Anzusehen ist ${look}.`,
  scatterThen: ', dann ',
  scatterCues: {
    release: 'das Loslassen und die Befestigung',
    began: 'wie jeder Lauf begann und was sich inzwischen geändert oder erwärmt hat',
    wheel: 'ob das Rad rutscht und jede Marke durch die Lichtschranke geht',
    gates: 'ob eine Lichtschranke zwischen den Läufen verschoben wurde',
    camera: 'ob die Kamera still und senkrecht zur Bewegung stand',
    watch: 'wer die Uhr bedient und auf welches Zeichen hin',
    scale: 'wie die Skala abgelesen wird: gerade von vorn und jedes Mal von derselben Marke aus',
    contacts: 'jeder Kontakt und jede Leitung und was vor dem Start noch nicht zur Ruhe gekommen war',
    thermometer: 'das Rühren, der Ort des Thermometers und der Luftzug',
    forceZero: 'der Nullpunkt des Kraftsensors vor jedem Lauf und was ihn berührt',
  },
  asidesWere: (run, reason) => say`Bei den Beispielläufen wurde „${run}“ beiseite gelegt: ${reason}.`,
  readerSaid: (run, note) => say`Im Beispiellauf „${run}“ aufgefallen: ${note}`,
  quoted: (run) => `„${run}“`,
  likewise: (runs) => say` Das Gleiche, mehr oder weniger, in ${runs}.`,
  holdsEnd: (condition, time) =>
    say`Ab ${time} ist diese Bedingung nicht mehr erfüllt: ${condition}; die Auswertung lässt die Messwerte danach von selbst weg.`,

  instrumentsCaption: 'Messgeräte',
  instrument: 'Messgerät',
  kind: 'Art',
  settings: 'Einstellungen',
  quantitiesCaption: 'Apparatur: was gebraucht wird, und wie gut es bekannt sein muss',
  uncertainty: 'Standardunsicherheit',
  alsoNeeded:
    'Außerdem: eine Waage und ein Maßstab für die Größen oben, ein Rechner oder Papier für die Auswertung, und was die Sicherheitshinweise verlangen.',
  setupIntroduction:
    'Für die Person, die den Versuch aufbaut. Mit den Werten der Tabelle rechnen alle Unterlagen; eigene Werte werden gemessen und in die Versuchsdatei eingetragen.',
  checkCaption: 'Einzustellen und zu prüfen',
  checked: 'geprüft',
  tolerance: 'auf (Standardunsicherheit)',
  noteEverything:
    'Alles notieren, was anders war als geplant. Eine Bemerkung von jetzt ist mehr wert als eine Vermutung von später.',
};
