/**
 * The text of a lab that has nothing yet but its name: a lab without problems, to be filled section by section.
 *
 * @param title in words
 */
export function firstLabText(title: string): string {
  return `benchwright: 1
title: ${JSON.stringify(title)}
question: What is to be found out?

# Every symbol with its value, how well it is known, and where it is from.
quantities:
  g: { is: local gravity, value: 9.81 m/s^2, u: 0.01 m/s^2, from: usual value }
`;
}
