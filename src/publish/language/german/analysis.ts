import { say } from '../../document/index.ts';
import type { analysis as english } from '../english/analysis.ts';

export const analysis: typeof english = {
  motionFromEdges: (instrument, radius, columns) =>
    say`Jede Marke von „${instrument}“ liegt einen Abstand weiter. Nummeriere die Marken: Ort = Start + Nummer × Abstand (der Radius ist ${radius}). Die Geschwindigkeit zwischen zwei Marken ist der Abstand durch die Zeit dazwischen und gehört in die Mitte dieser Zeit. Das gibt ${columns}.`,
  motionFromSamples: (instrument, columns) =>
    say`„${instrument}“ gibt den Ort in gleichen Zeitabständen. Die Geschwindigkeit ist die Änderung des Ortes durch die Zeit, die sie brauchte, und gehört in die Mitte dieser Zeit. Das gibt ${columns}.`,
  motionFromGates: (instrument, columns) =>
    say`Jede Schranke von „${instrument}“ steht an einem bekannten Ort. Die Geschwindigkeit dort ist die Breite der Fahne durch die Zeit, in der sie hindurchgeht. Das gibt ${columns}.`,
  motionFromFrames: (instrument, columns) =>
    say`Lies in jedem Bild von „${instrument}“ den Ort ab. Die Geschwindigkeit ist die Änderung des Ortes von Bild zu Bild durch die Zeit dazwischen. Das gibt ${columns}.`,
  readings: (instrument, columns) => say`Nimm die Messwerte von „${instrument}“: ${columns}.`,
  keepWhile: (condition) =>
    say`Behalte nur die Messwerte mit ${condition}; für diese ist die Theorie gemeint.`,
  keepTo: (condition) => say`Lass alles weg ab dem ersten Messwert mit ${condition}.`,
  keepFrom: (condition) => say`Lass alles weg vor dem ersten Messwert mit ${condition}.`,
  keepPlain: 'Behalte den Teil des Laufs, für den die Theorie gemeint ist.',
  line: (y, x) => say`Trage ${y} gegen ${x} auf und ziehe die am besten passende gerade Linie.`,
  slopeIs: (name) => say`Ihre Steigung ist ${name}.`,
  interceptIs: (name) => say`Wo sie die senkrechte Achse trifft, liest man ${name} ab.`,
  polynomial: (y, x, degree) => say`Trage ${y} gegen ${x} auf und passe ein Polynom vom Grad ${degree} an.`,
  fit: (y, curve) => say`Passe die Kurve ${curve} an ${y} an.`,
  mean: (of, name) => say`Bilde den Mittelwert von ${of}; er heißt ${name}.`,
  meanWhile: (of, condition, name) =>
    say`Bilde den Mittelwert von ${of} über die Messwerte mit ${condition}; er heißt ${name}.`,
  peak: (of, name) => say`Suche den größten Wert von ${of}; er heißt ${name}.`,
  period: (of, name, count) =>
    say`Suche die Zeitpunkte, zu denen ${of} in derselben Richtung durch seine Lage geht. Die Zeit von einem zum nächsten ist eine Periode; der Mittelwert der ersten ${count} ist ${name}.`,
  periodAll: (of, name) =>
    say`Suche die Zeitpunkte, zu denen ${of} in derselben Richtung durch seine Lage geht. Die Zeit von einem zum nächsten ist eine Periode; ihr Mittelwert ist ${name}.`,
  value: (of, name) => say`Berechne ${name} = ${of}.`,
  column: (of, name) => say`Berechne für jeden Messwert ${name} = ${of}.`,
  zero: (column) => say`Zieh von ${column} ab, was es anzeigt, wenn nichts wirkt.`,
  smooth: (column) =>
    say`Glätte ${column} über einige benachbarte Messwerte, so weit die Streuung es verlangt und nicht weiter.`,
  derivative: (of, name) =>
    say`Berechne aus benachbarten Messwerten von ${of}, wie schnell es sich ändert; das heißt ${name}.`,
  otherStep: (words) => say`Nächster Schritt: ${words}.`,
  acrossIntroduction: 'Dann mit den Ergebnissen aller Läufe zusammen:',
  uncertainty:
    'Schreibe jedes Ergebnis mit seiner Unsicherheit auf: Wiederholte Läufe sagen, wie sehr es streut, die Anpassung sagt, wie gut ein Lauf es festlegt.',

  compareIntroduction:
    'Berechne mit den eigenen Werten, was die Theorie sagt, und trage beides in die Tabelle ein.',
  compareCaption: 'Theorie und Messung',
  theory: 'Theorie',
  measured: 'gemessen',
  difference: 'gemessen − Theorie',
  differenceRule:
    'Ein Unterschied zählt, wenn er größer ist als etwa das Doppelte seiner Unsicherheit. Ist deiner das?',
  howLarge: (result) =>
    say`Um wie viel Prozent weicht dein ${result} von der Theorie ab, und in welche Richtung?`,
  howLargeFromNought: (result) =>
    say`Die Theorie sagt null. Um wie viel weicht dein ${result} davon ab, und ist das mehr als Zufall?`,
  gapFromNought: (full) => say`Mit allem, was der Versuch kennt, gibt das volle Modell ${full}.`,
  gapIs: (change, share, full) =>
    say`Mit allem, was der Versuch kennt, weicht das volle Modell um ${change} von der Theorie ab, das sind ${share} der Theorie: Es gibt ${full}.`,
  noTheory: 'Die Theorie sagt dazu nichts.',
};
