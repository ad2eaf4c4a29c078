/** Fixed phrases of a workbook. */
export interface SheetWords {
  readonly inputs: string;
  readonly model: string;
  readonly fit: string;
  readonly about: string;
  readonly howToUse: string;
  readonly symbol: string;
  readonly meaning: string;
  readonly value: string;
  readonly unit: string;
  readonly uncertainty: string;
  readonly inSI: string;
  readonly computed: string;
  readonly step: string;
  readonly atTheEnd: string;
  readonly time: string;
  readonly rateOf: (symbol: string) => string;
  readonly freeRateOf: (symbol: string) => string;
  readonly frictionOn: (symbol: string) => string;
  readonly share: string;
  readonly untilStop: (name: string) => string;
  readonly moving: string;
  readonly noModel: string;
  readonly slope: string;
  readonly intercept: string;
  readonly scatter: string;
  readonly points: string;
  readonly unweighted: string;
  readonly against: (y: string, x: string) => string;
}

const english: SheetWords = {
  inputs: 'Inputs',
  model: 'Model',
  fit: 'Line',
  about: 'About',
  howToUse: 'Change a value with a yellow ground: the motion, its end and the drawings follow.',
  symbol: 'symbol',
  meaning: 'what it is',
  value: 'value',
  unit: 'unit',
  uncertainty: 'standard uncertainty',
  inSI: 'value in SI',
  computed: 'computed from the values above',
  step: 'time step',
  atTheEnd: 'at the end of the motion',
  time: 'time',
  rateOf: (symbol) => `rate of change of ${symbol}`,
  freeRateOf: (symbol) => `rate of ${symbol} without dry friction`,
  frictionOn: (symbol) => `what all of the dry friction adds to it (${symbol})`,
  share: 'share of the dry friction that acts',
  untilStop: (name) => `beyond 0: ${name}`,
  moving: 'still moving',
  noModel: 'This model cannot be written into cells:',
  slope: 'slope',
  intercept: 'intercept',
  scatter: 'standard deviation about the line',
  points: 'number of points',
  unweighted: 'All points count alike here.',
  against: (y, x) => `${y} against ${x}`,
};

const german: SheetWords = {
  inputs: 'Eingaben',
  model: 'Modell',
  fit: 'Gerade',
  about: 'Herkunft',
  howToUse: 'Ändere einen Wert auf gelbem Grund: Bewegung, Ende und Zeichnungen folgen.',
  symbol: 'Zeichen',
  meaning: 'Bedeutung',
  value: 'Wert',
  unit: 'Einheit',
  uncertainty: 'Standardunsicherheit',
  inSI: 'Wert in SI',
  computed: 'aus den Werten oben berechnet',
  step: 'Zeitschritt',
  atTheEnd: 'am Ende der Bewegung',
  time: 'Zeit',
  rateOf: (symbol) => `Änderungsrate von ${symbol}`,
  freeRateOf: (symbol) => `Rate von ${symbol} ohne trockene Reibung`,
  frictionOn: (symbol) => `was die ganze trockene Reibung hinzufügt (${symbol})`,
  share: 'Anteil der trockenen Reibung, der wirkt',
  untilStop: (name) => `über 0: ${name}`,
  moving: 'noch in Bewegung',
  noModel: 'Dieses Modell lässt sich nicht in Zellen schreiben:',
  slope: 'Steigung',
  intercept: 'Achsenabschnitt',
  scatter: 'Standardabweichung um die Gerade',
  points: 'Anzahl der Punkte',
  unweighted: 'Alle Punkte zählen hier gleich.',
  against: (y, x) => `${y} gegen ${x}`,
};

export function sheetWordsOf(language: string): SheetWords {
  return language.toLowerCase().split('-')[0] === 'de' ? german : english;
}
