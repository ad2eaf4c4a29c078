/** Everything that the page itself says, in English. Its form is the form of every language's table. */
export const english = {
  reading: 'Reading the lab …',
  unreadable: 'This lab cannot be read',
  equipment: {
    heading: 'Your equipment',
    about: 'Type your own values with their units, or move the sliders: everything follows.',
    kit: 'Equipment',
    station: 'Station',
    asGiven: 'as given',
    back: 'Back to the values of the lab',
  },
  ledger: {
    heading: 'From theory to measurement',
    heldAgainst: 'Held against',
    labRuns: (count: number) => `the runs of the lab (${count})`,
    ownRuns: (file: string) => `your own readings: ${file}`,
    nothing: 'nothing: what is expected',
    effects: 'Effects: switch them off to see what they do',
    inUnit: ' in ',
    theory: 'theory',
    ideal: 'ideal model',
    full: 'full model',
    measured: (runs: number) => `measured, ${runs === 1 ? '1 run' : `${runs} runs`}`,
    left: 'what is left',
    off: 'switched off',
  },
  readings: {
    heading: 'Your own readings',
    about:
      'They stay on this device. Choose your equipment and set your values first; the ledger then is that of your run.',
    drop: 'A file of readings, dropped here or chosen: ',
  },
  mark: {
    heading: 'A number that somebody reports',
    about:
      'With the equipment as set above. The share says how much speaks for a cause, of all that is considered.',
    ask: 'What would give this?',
    working: 'Rehearsing what could have happened …',
  },
};
