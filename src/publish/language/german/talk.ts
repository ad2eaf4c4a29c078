import { say } from '../../document/index.ts';
import type { talk as english } from '../english/talk.ts';

export const talk: typeof english = {
  subtitle: (minutes) => `Ein Vortrag von ${minutes} Minuten`,
  weMeasure: 'Was gemessen wird:',
  question: 'Die Frage',
  sayQuestion:
    'Die Frage stellen und warten. Zwei oder drei Personen sagen lassen, was sie erwarten, und es für den Schluss aufschreiben.',
  sayWhatHappens: 'Es einmal zeigen, wenn es sich zeigen lässt. Sagen, was womit gemessen wird.',
  idealPicture: 'Das ideale Bild',
  sayIdeal:
    'Die Zeilen in Worten durchgehen; niemand liest in diesem Tempo Gleichungen. Bei der letzten verweilen: Sie sagt, was aufzutragen ist.',
  setup: 'Aufbau',
  saySetup: 'Sagen, was das Messgerät wirklich sieht.',
  cautions: 'Aufbau: Sicherheitshinweise',
  sayCautions: 'Sie gehören zum Aufbau. Den nennen, der in diesem Raum am wichtigsten ist.',
  predict: 'Was ist zu erwarten?',
  sayPredict: 'Vor der nächsten Folie die Hände heben lassen.',
  measurement: 'Ein Lauf',
  sayMeasurement: (result, value) =>
    say`Dieser Lauf gibt ${result} = ${value}. Auf die Reste zeigen: Wandern sie?`,
  sayRehearsed: (result, value) =>
    say`Es ist noch kein Lauf aufgenommen; das volle Modell erwartet ${result} = ${value}.`,
  results: 'Theorie und Messung',
  sayResults: 'Zuerst der Unterschied, dann, ob er größer ist als seine Unsicherheit. Noch nicht erklären.',
  gap: 'Warum sie sich unterscheiden',
  sayGap: (effect, change) =>
    say`Der größte Effekt ist „${effect}“, ${change}. Was am Ende übrig bleibt, ist der ehrliche Teil.`,
  sayGapNone: 'Der Versuch nennt keine Effekte; was übrig bleibt, ist der ehrliche Teil.',
  classroom: 'Im Unterricht',
  sayClassroom: 'Das Versehen nennen, das die Anwesenden selbst schon erlebt haben.',
  slipGives: (slip, value) => say`${slip}: ${value}`,
  conclusion: 'Was bleibt',
  sayConclusion: 'Auf das zurückkommen, was am Anfang aufgeschrieben wurde. Dann Fragen.',
};
