/** The few sentences that items hold. */
interface AssessmentWords {
  station(name: string): string;
  youHave(set: string): string;
  whatIs(result: string, unit: string): string;
  answer(low: string, high: string, unit: string): string;
}

const english: AssessmentWords = {
  station: (name) => `Station ${name}`,
  youHave: (set) => `Your station has ${set}.`,
  whatIs: (result, unit) =>
    `What do you find for ${result}? Give ${unit === '' ? 'a number' : `the number in ${unit}`}.`,
  answer: (low, high, unit) =>
    `95 of 100 groups find between ${low} and ${high}${unit === '' ? '' : ` ${unit}`}.`,
};

const german: AssessmentWords = {
  station: (name) => `Platz ${name}`,
  youHave: (set) => `An eurem Platz ist ${set}.`,
  whatIs: (result, unit) =>
    `Was findet ihr für ${result}? Gebt ${unit === '' ? 'eine Zahl' : `die Zahl in ${unit}`} an.`,
  answer: (low, high, unit) =>
    `95 von 100 Gruppen finden zwischen ${low} und ${high}${unit === '' ? '' : ` ${unit}`}.`,
};

/** The sentences in a language; English where there are none. */
export function assessmentWords(language: string): AssessmentWords {
  return language.toLowerCase().startsWith('de') ? german : english;
}
