/**
 * What the Data Package standard, version 2.0, asks of a descriptor, restated from its published profiles
 * (datapackage.org/profiles/2.0: datapackage.json, dataresource.json, tabledialect.json, tableschema.json; patterns of
 * paths, licences, media types and digests as they stand there) and from the pages of the standard: names of
 * resources are unique, paths are relative and stay in the folder of the descriptor.
 */
import * as z from 'zod';

const path = z
  .string()
  .regex(/^((?=[^./~])(?!file:)((?!\/\.\.\/)(?!\\)(?!:\/\/).)*|(http|ftp)s?:\/\/.*)$/);

const licence = z
  .looseObject({
    name: z
      .string()
      .regex(/^([-a-zA-Z0-9._])+$/)
      .optional(),
    path: path.optional(),
    title: z.string().optional(),
  })
  .refine(({ name, path: to }) => name !== undefined || to !== undefined, 'a licence has a name or a path');

const numberField = z.looseObject({
  name: z.string(),
  type: z.literal('number'),
  decimalChar: z.string().optional(),
  bareNumber: z.boolean().optional(),
});

const resource = z.looseObject({
  name: z.string().regex(/^[a-z0-9._-]+$/),
  path,
  type: z.literal('table').optional(),
  title: z.string().optional(),
  description: z.string().optional(),
  format: z.string().optional(),
  mediatype: z
    .string()
    .regex(/^(.+)\/(.+)$/)
    .optional(),
  encoding: z.string().optional(),
  bytes: z.int().optional(),
  hash: z
    .string()
    .regex(/^([^:]+:[a-fA-F0-9]+|[a-fA-F0-9]{32}|)$/)
    .optional(),
  dialect: z
    .looseObject({
      header: z.boolean().optional(),
      delimiter: z.string().optional(),
      lineTerminator: z.string().optional(),
      quoteChar: z.string().length(1).optional(),
      doubleQuote: z.boolean().optional(),
    })
    .optional(),
  schema: z
    .looseObject({ fields: z.array(numberField).min(1), missingValues: z.array(z.string()).optional() })
    .optional(),
});

export const dataPackageForm = z.looseObject({
  $schema: z.literal('https://datapackage.org/profiles/2.0/datapackage.json'),
  name: z.string().regex(/^[a-z0-9._-]+$/),
  title: z.string().optional(),
  description: z.string().optional(),
  licenses: z.array(licence).min(1).optional(),
  resources: z
    .array(resource)
    .min(1)
    .refine((all) => new Set(all.map(({ name }) => name)).size === all.length, 'names of resources are unique'),
});
