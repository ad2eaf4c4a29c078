/** Comments and prints of a program. */
export interface CodeWords {
  readonly purpose: string;
  readonly inputs: string;
  readonly computed: string;
  readonly start: string;
  readonly step: string;
  readonly loop: string;
  readonly friction: string;
  readonly terms: string;
  readonly rates: string;
  readonly speedsFirst: string;
  readonly placesNext: string;
  readonly allFromOld: string;
  readonly timeGoesOn: string;
  readonly ended: (name: string) => string;
  readonly jumps: string;
  readonly timeIsUp: string;
  readonly between: string;
  readonly results: string;
  readonly giveUp: string;
  readonly plot: string;
  readonly cannot: string;
}

const english: CodeWords = {
  purpose:
    'The motion, step by step. Python 3 alone is enough; type --plot behind the name to see a drawing.',
  inputs: 'What is given, in SI units. Change a number and run it again.',
  computed: 'What follows from it.',
  start: 'The start.',
  step: 'The time step in seconds. Halve it: does the result still change?',
  loop: 'The loop: from what is now to what is next.',
  friction: 'How much of the dry friction acts: all of it, or as much as stops the body.',
  terms: 'Parts of the rates.',
  rates: 'How fast each thing changes now.',
  speedsFirst: 'New speed = old speed + rate * time step.',
  placesNext: 'New place = old place + new speed * time step.',
  allFromOld: 'New value = old value + rate * time step.',
  timeGoesOn: 'Time goes on.',
  ended: (name) => `The motion ends: ${name}.`,
  jumps: 'What changes all at once, in the step in which its condition becomes true.',
  timeIsUp: 'The time is up.',
  between: 'The end lies within the last step: find it on a straight line.',
  results: 'At the end',
  giveUp: 'The motion has not ended after so many steps.',
  plot: 'A drawing, where matplotlib is installed.',
  cannot: 'There is no program for this lab:',
};

const german: CodeWords = {
  purpose:
    'Die Bewegung, Schritt für Schritt. Python 3 allein genügt; --plot hinter dem Namen zeigt eine Zeichnung.',
  inputs: 'Was gegeben ist, in SI-Einheiten. Ändere eine Zahl und starte neu.',
  computed: 'Was daraus folgt.',
  start: 'Der Anfang.',
  step: 'Der Zeitschritt in Sekunden. Halbiere ihn: ändert sich das Ergebnis noch?',
  loop: 'Die Schleife: vom Jetzt zum Nächsten.',
  friction: 'Wie viel der trockenen Reibung wirkt: alles, oder so viel, wie den Körper anhält.',
  terms: 'Teile der Änderungsraten.',
  rates: 'Wie schnell sich alles gerade ändert.',
  speedsFirst: 'Neue Geschwindigkeit = alte Geschwindigkeit + Rate * Zeitschritt.',
  placesNext: 'Neuer Ort = alter Ort + neue Geschwindigkeit * Zeitschritt.',
  allFromOld: 'Neuer Wert = alter Wert + Rate * Zeitschritt.',
  timeGoesOn: 'Die Zeit geht weiter.',
  ended: (name) => `Die Bewegung endet: ${name}.`,
  jumps: 'Was sich auf einmal ändert: in dem Schritt, in dem seine Bedingung wahr wird.',
  timeIsUp: 'Die Zeit ist um.',
  between: 'Das Ende liegt innerhalb des letzten Schritts: suche es auf einer Geraden.',
  results: 'Am Ende',
  giveUp: 'Die Bewegung hat nach so vielen Schritten nicht geendet.',
  plot: 'Eine Zeichnung, wo matplotlib installiert ist.',
  cannot: 'Für dieses Lab gibt es kein Programm:',
};

export function codeWordsOf(language: string): CodeWords {
  return language.toLowerCase().split('-')[0] === 'de' ? german : english;
}
