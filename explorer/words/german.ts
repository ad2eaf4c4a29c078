import type { english } from './english.ts';

/** Everything that the page itself says, in German. */
export const german: typeof english = {
  reading: 'Der Versuch wird gelesen …',
  unreadable: 'Dieser Versuch lässt sich nicht lesen',
  equipment: {
    heading: 'Das eigene Gerät',
    about: 'Eigene Werte mit Einheit eintippen oder die Regler ziehen: Alles folgt.',
    kit: 'Gerätesatz',
    station: 'Station',
    asGiven: 'wie angegeben',
    back: 'Zurück zu den Werten des Versuchs',
  },
  ledger: {
    heading: 'Von der Theorie zur Messung',
    heldAgainst: 'Verglichen mit',
    labRuns: (count) => `den Läufen des Versuchs (${count})`,
    ownRuns: (file) => `eigenen Messwerten: ${file}`,
    nothing: 'nichts: was zu erwarten ist',
    effects: 'Effekte: abschalten, um zu sehen, was sie tun',
    inUnit: ' in ',
    theory: 'Theorie',
    ideal: 'ideales Modell',
    full: 'volles Modell',
    measured: (runs) => `gemessen, ${runs === 1 ? '1 Lauf' : `${runs} Läufe`}`,
    left: 'Rest',
    off: 'abgeschaltet',
  },
  readings: {
    heading: 'Eigene Messwerte',
    about:
      'Sie bleiben auf diesem Gerät. Zuerst Gerätesatz und Werte einstellen; die Bilanz ist dann die des eigenen Laufs.',
    drop: 'Eine Datei mit Messwerten, hierher gezogen oder ausgewählt: ',
  },
  mark: {
    heading: 'Eine Zahl, die jemand angibt',
    about:
      'Mit dem Gerät, wie es oben eingestellt ist. Der Anteil sagt, wie viel von allem, was erwogen wird, für eine Ursache spricht.',
    ask: 'Was würde das ergeben?',
    working: 'Es wird geprobt, was geschehen sein könnte …',
  },
};
