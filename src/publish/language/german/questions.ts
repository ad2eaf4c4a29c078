import { say } from '../../document/index.ts';
import type { questions as english } from '../english/questions.ts';

export const questions: typeof english = {
  whichSmaller: (result, effects) =>
    say`Was davon macht ${result} kleiner, als das ideale Bild sagt, und was macht es größer: ${effects}? Gib für jedes einen Grund an.`,
  smaller: (effects) => say`Kleiner: ${effects}.`,
  larger: (effects) => say`Größer: ${effects}.`,
  hardly: (effects) => say`Kaum eine Änderung, weniger als ein Zehntel der Unsicherheit: ${effects}.`,
  effectBy: (effect, change) => say`${effect}, ${change}`,
  explainEffect: (effect, is) => say`${effect}: ${is}`,
  together: (result) =>
    say`Zähle alle Effekte mit ihren Vorzeichen zusammen. Erklären sie den Unterschied, den du bei ${result} gefunden hast?`,
  togetherIs: (sum, remainder) =>
    say`Zusammen ergeben sie ${sum}. In den Beispielläufen bleibt danach ${remainder} übrig.`,
  togetherOnly: (sum) => say`Zusammen ergeben sie ${sum}.`,
  whereTrue: (condition) =>
    say`Die Theorie gilt nur unter dieser Bedingung: ${condition}. Wann wäre sie nicht mehr erfüllt, und was würde man dann sehen?`,
  neverFails: 'Mit diesen Werten ist sie während des ganzen Laufs erfüllt.',
  failsAt: (time, state) =>
    say`Mit diesen Werten ist sie ab ${time} nicht mehr erfüllt; dort ist ${state}. Spätere Messwerte werden beiseite gelegt.`,
  slip: (result, value) =>
    say`Eine Gruppe meldet ${result} = ${value}. Nichts ist kaputt. Was hat sie wahrscheinlich getan?`,
  slipTheory: (result, value) =>
    say`Eine Gruppe rechnet aus der Theorie ${result} = ${value} aus. Was hat sie wahrscheinlich getan?`,
  slipIs: (is, right) => say`Wahrscheinlich dies: ${is}. Richtig gestellt ergibt sich ${right}.`,
  whichQuantity: (result) =>
    say`Welchen deiner eigenen Werte würdest du zuerst noch einmal messen, damit ${result} besser übereinstimmt? Um wie viel müsste er sich ändern?`,
  closing: (quantity, needed, times) =>
    say`${quantity} müsste ${needed} sein, das ist ${times} Standardunsicherheiten entfernt`,
  closingIs: (list) => say`Bei den Beispielläufen: ${list}.`,
  nothingCloses:
    'Bei den Beispielläufen gelänge es mit keinem einzelnen Wert innerhalb von zehn seiner Standardunsicherheiten.',

  extendIntroduction: 'Für alle, die noch Zeit haben:',
  tryKit: (is, result) =>
    say`Wiederhole den Versuch mit anderem Gerät: ${is}. Zuerst vorhersagen: Wird ${result} größer oder kleiner, und um wie viel?`,
  kitIs: (result, kit, own) => say`Das volle Modell gibt ${result} = ${kit} statt ${own}.`,
  switchOn:
    'Nimm einen der Effekte in die Schrittfolge auf und lass die Maschine die Schritte tun. Verschiebt sich das Ergebnis so, wie du gesagt hast?',
  switchOnLaw: 'Nehmt einen der Effekte in das Gesetz auf. Was wird aus dem Ergebnis?',
  switchOnPlain: 'Nimm einen der Effekte in die Gleichung auf. Was wird aus dem Ergebnis?',
  pool: (result, quantity) =>
    say`Sammle ${result} von allen Gruppen und trage es gegen ${quantity} auf. Welche Kurve zieht die Theorie durch die Punkte?`,
};
