/**
 * What the Citation File Format, version 1.2.0, asks of a file, restated from its schema guide (S. Druskat et al. 2021,
 * doi:10.5281/zenodo.5171937): four keys that must be there, no key that is not listed, the two types, entities as
 * authors, identifiers of the kind "other".
 */
import * as z from 'zod';

const entity = z.strictObject({ name: z.string().min(1), website: z.url().optional(), email: z.email().optional() });

const identifier = z.strictObject({
  type: z.literal('other'),
  value: z.string().min(1),
  description: z.string().min(1).optional(),
});

export const citationForm = z.strictObject({
  'cff-version': z.literal('1.2.0'),
  message: z.string().min(1),
  title: z.string().min(1),
  authors: z.array(entity).min(1),
  type: z.enum(['software', 'dataset']).optional(),
  abstract: z.string().min(1).optional(),
  license: z.string().optional(),
  identifiers: z.array(identifier).min(1).optional(),
  keywords: z.array(z.string()).min(1).optional(),
  version: z.union([z.string(), z.number()]).optional(),
  'date-released': z.iso.date().optional(),
  url: z.url().optional(),
});
