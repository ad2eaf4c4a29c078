import { say } from '../../document/index.ts';
import type { background as english } from '../english/background.ts';

export const background: typeof english = {
  measures: (results, several) =>
    say`Gemessen ${several ? 'werden' : 'wird'} ${results}; verglichen wird mit dem, was die Theorie sagt.`,
  resultAs: (what, symbol) => say`${symbol} (${what})`,
  ideal: 'Zuerst das ideale Bild, in dem alles Kleine weggelassen ist.',
  lawInWords: (because) => say`Das Gesetz in Worten: ${because}.`,
  derivation: 'Zeile für Zeile:',
  because: (reason) => say`denn: ${reason}`,
  withinShare: (share) => say`(wahr bis auf ${share})`,
  theoryGives: (what) => say`Damit gibt die Theorie für ${what}:`,
  theoryIsNumber: (what, value) => say`Die Theorie gibt für ${what} den Wert ${value}.`,
  theoryNeedsMachine: (what) =>
    say`Die Summe über alle kleinen Stücke der Bewegung, die ${what} ergibt, ist für das Papier zu lang; eine Maschine rechnet sie aus. Die Lehrkraft hat die Werte.`,
  sumOverSteps:
    'Wo eine Zeile eine Summe über viele kleine Stücke braucht, steht hier nur, was dabei herauskommt.',
  stepIntroduction:
    'Eine Gleichung muss dafür nicht gelöst werden. Man folgt der Bewegung in vielen kurzen Zeitschritten: Innerhalb eines Schrittes gilt alles als gleichbleibend, so dass nur Malnehmen und Zusammenzählen bleibt. Die Länge eines Schrittes heißt Δt. Jeder Schritt geht gleich:',
  newFromOld: (state, rate, isSum) =>
    isSum
      ? say`Neues ${state} = altes ${state} + (${rate}) × Δt.`
      : say`Neues ${state} = altes ${state} + ${rate} × Δt.`,
  withNew: (state, rate) =>
    say`Neues ${state} = altes ${state} + ${rate} × Δt, mit den neuen Werten aus den Zeilen darüber.`,
  timeGoesOn:
    'Die Zeit wächst um Δt. Alle neuen Werte aufschreiben; sie sind die alten Werte des nächsten Schrittes.',
  jumps: (name, state, value) =>
    say`Wenn dies gerade eingetreten ist: ${name}, tritt ${value} an die Stelle von ${state}.`,
  goOnUntil: (stop) => say`Weitermachen, bis dies eintritt: ${stop}.`,
  goOnToEnd: 'Weitermachen bis zum Ende der Bewegung.',
  stepTable: (step) => say`Die ersten Schritte der idealen Bewegung mit Δt = ${step}`,
  tableIsRough:
    'So lange Schritte zeigen, wie es geht; für ein Ergebnis taugen sie nicht: Jeder macht einen kleinen Fehler, und die Fehler häufen sich.',
  goodStep: (result, step) =>
    say`Mit Schritten von ${step} oder kürzer bleibt der Fehler von ${result} unter einem Zehntel der Unsicherheit der Messung. Die überlässt man einer Maschine.`,
  leftOut: 'Das ideale Bild lässt dies weg:',
  nothingLeftOut: 'Dieser Versuch nennt nichts, was das ideale Bild weglässt.',
  modelOf: (output) => say`Das Gesetz für ${output}:`,
  modelParts: 'Darin steht:',
  model: (output, control) => say`Das Gesetz sagt, wie ${output} von ${control} abhängt:`,

  predictIntroduction:
    'Diese Fragen sind vor der ersten Messung zu beantworten. Eine falsche Vermutung, die aufgeschrieben ist, lehrt mehr als eine richtige, die man gelesen hat.',
  sketch: (y, x) =>
    say`Skizziere, wie ${y} vermutlich von ${x} abhängt. Welche Punkte der Skizze sind sicher?`,
  sketchLine: (y, x) => say`Im idealen Bild ist ${y} gegen ${x} eine gerade Linie.`,
  sketchSlope: (slope) => say`Ihre Steigung ist ${slope}.`,
  whenGrows: (quantity, what, result) =>
    say`${what} (${quantity}) wird größer gemacht. Wird ${result} größer, kleiner, oder bleibt es gleich? Warum?`,
  itGrows: (result, values) => say`${result} wird größer: ${values}.`,
  itShrinks: (result, values) => say`${result} wird kleiner: ${values}.`,
  itStays: (result, values) => say`${result} bleibt innerhalb seiner Unsicherheit gleich: ${values}.`,
  itVaries: (result, values) => say`${result} geht auf und ab: ${values}.`,
  valueAt: (value, setting) => say`${value} bei ${setting}`,
  whichMost: (result) => say`Was von dem, das das ideale Bild weglässt, verändert ${result} wohl am meisten?`,
  mostIs: (effect, change) =>
    say`Nach dem vollen Modell ist es „${effect}“ mit einer Änderung von ${change}.`,
};
