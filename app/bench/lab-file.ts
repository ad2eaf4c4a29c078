/** The name of the lab file, in its folder and in messages. */
export const LAB_FILE = 'lab.yaml';
