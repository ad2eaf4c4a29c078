import { say } from '../../document/index.ts';
import type { setup as english } from '../english/setup.ts';

export const setup: typeof english = {
  apparatus:
    'Die Apparatur. Was sich messen lässt, wird gemessen; die eigenen Werte kommen neben die angegebenen.',
  apparatusCaption: 'Größen der Apparatur',
  looksAt: (instrument, kind, signal) =>
    say`Messgerät „${instrument}“: ${kind}; was es sieht, ist ${signal}.`,
  reads: (instrument, kind, signal) => say`Messgerät „${instrument}“: ${kind}; abgelesen wird ${signal}.`,
  looks: (instrument, kind) => say`Messgerät „${instrument}“: ${kind}.`,
  kinds: {
    edges: 'eine Schranke, die jedes Mal die Zeit festhält, wenn die nächste Marke vorbeikommt',
    sampled: 'ein Sensor, der in gleichen Zeitabständen abgelesen wird',
    gates: 'Schranken an festen Orten, von denen jede festhält, wann etwas hindurchgeht',
    frames: 'eine Kamera, deren Bilder den Ort in gleichen Zeitabständen geben',
    stopwatch: 'eine Stoppuhr, von Hand gestartet und gestoppt',
    ruler: 'ein Maßstab, der mit dem Auge abgelesen wird',
  },
  kindNames: {
    edges: 'Zeiten von Marken',
    sampled: 'gleiche Zeitschritte',
    gates: 'Zeiten an Orten',
    frames: 'Bilder',
    stopwatch: 'Stoppuhr',
    ruler: 'Skala',
  },
  stepNames: {
    'motion from edges': 'Bewegung aus Marken',
    'motion from samples': 'Bewegung aus Messwerten',
    'motion from gates': 'Bewegung aus Lichtschranken',
    'motion from frames': 'Bewegung aus Bildern',
    readings: 'Messwerte',
    keep: 'behalten, solange',
    line: 'Gerade:',
    polynomial: 'Polynom:',
    fit: 'Anpassung:',
    mean: 'Mittelwert von',
    peak: 'größter Wert von',
    period: 'Periode von',
    value: 'Wert von',
    column: 'berechnen:',
    zero: 'auf null setzen:',
    smooth: 'glätten:',
    derivative: 'Änderungsrate von',
  },
  against: ' gegen ',
  otherKind: (kind) => `ein Messgerät der Art „${kind}“`,
  withSettings: (settings) => say` Einstellungen: ${settings}.`,
  settingIs: (name, value) => say`${name} ${value}`,
  settingNames: {
    'edges per turn': 'Marken je Umdrehung',
    clock: 'Zeitschritt der Uhr',
    phase: 'Phase der ersten Marke',
    'lost edges': 'Anteil verlorener Marken',
    rate: 'Messrate',
    interval: 'Zeit zwischen Messwerten',
    resolution: 'Auflösung',
    noise: 'Rauschen',
    lag: 'Zeitkonstante',
    range: 'Messbereich',
    zero: 'Nullpunktabweichung',
    starts: 'erster Messwert bei',
    at: 'Orte',
    flag: 'Breite der Fahne',
    pixel: 'Größe eines Bildpunkts',
    exposure: 'Belichtungszeit',
    counts: 'gezählte Perioden',
    reaction: 'Reaktionszeit',
    spread: 'Streuung von Hand oder Auge',
    division: 'Skalenteil',
  },
  schematic: 'Wie der Versuch zusammenhängt',

  measureFirst: (symbols) =>
    say`Miss ${symbols} und trage die Werte in die Tabelle der Größen ein, jeden mit seiner Unsicherheit.`,
  settingsInTurn: (settings) => say`Nimm diese Einstellungen nacheinander: ${settings}.`,
  setOnce: 'Baue alles so auf, wie es in der Tabelle steht.',
  start: {
    edges: (instrument) =>
      say`Schalte „${instrument}“ scharf, bevor sich etwas bewegt, damit schon die erste Marke zählt.`,
    sampled: (instrument) => say`Starte die Aufzeichnung von „${instrument}“ kurz bevor der Lauf beginnt.`,
    gates: (instrument) => say`Setze „${instrument}“ auf null und prüfe, dass jede Schranke anspricht.`,
    frames: (instrument) =>
      say`Starte „${instrument}“; die Kamera steht still und sieht die ganze Bewegung, mit einer bekannten Länge in derselben Ebene.`,
    stopwatch: (instrument) =>
      say`Halte „${instrument}“ bereit; es startet und stoppt immer dieselbe Person.`,
    ruler: (instrument) => say`Lies „${instrument}“ mit dem Auge genau vor der Marke ab.`,
  },
  startOther: (instrument) => say`Mache „${instrument}“ bereit.`,
  letGo: (start) => say`Halte alles still bei ${start}. Lass los, ohne zu stoßen und ohne zu bremsen.`,
  letGoPlain: 'Halte alles still und lass dann los, ohne zu stoßen und ohne zu bremsen.',
  beginAt: (start) => say`Stelle ${start} ein, warte, bis sich nichts mehr ändert, und beginne dann.`,
  beginPlain: 'Warte, bis sich nichts mehr ändert, und beginne dann.',
  endsWhen: (stop) => say`Der Lauf ist zu Ende, wenn dies eintritt: ${stop}.`,
  lasts: (time) => say`Zeichne ${time} lang auf.`,
  readAt: (control, values) => say`Stelle ${control} auf jeden dieser Werte und lies ab: ${values}.`,
  save: 'Speichere die Messwerte jedes Laufs so, wie sie sind, mit Einstellung und Nummer des Laufs im Namen. Danach werden sie nie mehr verändert.',
  repeat: (runs, settings) =>
    settings > 1
      ? `Nimm ${runs} gute Läufe bei jeder der ${settings} Einstellungen auf, zusammen ${runs * settings}.`
      : runs > 1
        ? `Nimm ${runs} gute Läufe auf.`
        : 'Nimm einen guten Lauf auf, und einen zweiten, um zu sehen, ob er übereinstimmt.',
  lookAtOnce:
    'Sieh jeden Lauf sofort an. Wo etwas schiefging, schreibe auf, was es war, und wiederhole den Lauf; beiseite gelegt wird ein Lauf wegen eines Grundes, nicht wegen seines Ergebnisses.',

  resultsCaption: 'Ergebnisse der Läufe',
  readingsCaption: (instrument) => say`Ablesungen von „${instrument}“`,
  readingsOfRun: 'Ablesungen eines Laufs',
  remark: 'Bemerkung',
};
