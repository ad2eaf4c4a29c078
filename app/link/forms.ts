import * as z from 'zod';

const shelvedLab = z.object({
  id: z.string(),
  folder: z.string(),
  title: z.string(),
  question: z.string(),
  mine: z.boolean(),
  digest: z.string(),
});

export const shelf = z.object({
  labs: z.array(shelvedLab),
  opened: z.string().nullable(),
  version: z.string(),
});

const labFile = z.object({ path: z.string(), size: z.number(), digest: z.string() });

export const labHead = z.object({
  id: z.string(),
  folder: z.string(),
  mine: z.boolean(),
  files: z.array(labFile),
});

export const written = z.object({ digest: z.string() });

export const takenTrial = z.object({ path: z.string(), digest: z.string() });

export const refusal = z.object({
  problems: z.array(z.object({ code: z.string(), message: z.string(), at: z.string().optional() })),
});

export type Shelf = z.infer<typeof shelf>;
export type ShelvedLab = z.infer<typeof shelvedLab>;
export type LabFile = z.infer<typeof labFile>;
export type LabHead = z.infer<typeof labHead>;

/** A file of a lab with the digest under which it may be written back. */
export interface HeldFile {
  readonly text: string;
  readonly digest: string;
}
