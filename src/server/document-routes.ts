import { basename } from 'node:path';
import { Hono } from 'hono';
import * as z from 'zod';
import { changedFiles, partsOfName, readInside, readPublished } from '../files/index.ts';
import { problem } from '../problem/index.ts';
import { type PrintSettings, SET_FORMATS } from '../publish/index.ts';
import { answerJson, answerProblems, answerRefusal, problemToJson } from './answers.ts';
import { typeOfPublished } from './content-type.ts';
import { type DocumentOrder, publishedFolder } from './document-job.ts';
import { builtExplorer, explorerHeaders } from './explorer-policy.ts';
import { keepPreviews } from './kept-previews.ts';
import { labFinder, MOST_SENT_BYTES, nameAfter, sendFile } from './lab-answers.ts';
import { readJson } from './read-body.ts';
import { SECURITY_HEADERS } from './security-headers.ts';
import type { ServerParts } from './server-parts.ts';
import type { ShelvedLab } from './shelf.ts';

const settings = {
  language: z.enum(['en', 'de']).default('en'),
  paper: z.enum(['a4', 'letter']).default('a4'),
  decimal: z.enum(['point', 'comma']).optional(),
  notation: z.enum(['plus-minus', 'brackets']).default('plus-minus'),
  /** The text of the lab file as the page has it, in place of that on the disk. */
  labText: z.string().max(2_000_000).optional(),
};

const publishForm = z.strictObject({
  ...settings,
  formats: z.array(z.enum(SET_FORMATS)).min(1).optional(),
  documents: z.array(z.string()).min(1).optional(),
});

const previewForm = z.strictObject({ ...settings, document: z.string(), format: z.enum(['html', 'pdf']) });

/** A text of a lab may be sent along. */
const MOST_BYTES = 8 * 2 ** 20;

/** Publishing, what was published, and single documents to look at. */
export function documentRoutes(parts: ServerParts): Hono {
  const routes = new Hono();
  const withLab = labFinder(parts);
  const { documents } = parts;
  const previews = keepPreviews();

  routes.post('/labs/:id/publish', (context) =>
    withLab(context.req.param('id'), async (lab) => {
      const sent = await readJson(context.req.raw, MOST_BYTES);
      if (!sent.ok) return answerProblems(sent.problems);
      const form = publishForm.safeParse(sent.value);
      if (!form.success) return notUnderstood(form.error);
      if (documents.isBusy) return answerRefusal('too-many', 'Too many documents are being made already.');
      const { formats = null, documents: wanted = null } = form.data;
      const order = orderFor(lab, form.data, parts, { formats, documents: wanted });
      return publish({ ...order, to: publishedFolder(lab, parts.aside) }, context.req.raw.signal);
    }),
  );

  routes.post('/labs/:id/preview', (context) =>
    withLab(context.req.param('id'), async (lab) => {
      const sent = await readJson(context.req.raw, MOST_BYTES);
      if (!sent.ok) return answerProblems(sent.problems);
      const form = previewForm.safeParse(sent.value);
      if (!form.success) return notUnderstood(form.error);
      if (documents.isBusy) return answerRefusal('too-many', 'Too many documents are being made already.');
      const { document, format } = form.data;
      const formats = document === 'talk' ? ['slides'] : [format];
      const order = orderFor(lab, form.data, parts, { formats, documents: [document] });
      const made = await documents.make(order, context.req.raw.signal, () => undefined);
      if (made === null) return answerRefusal('too-many', 'The document was not waited for.');
      if (!made.ok) return answerProblems(made.problems);
      const file = made.value.files.find(({ path }) => path.endsWith(`.${format}`));
      if (file === undefined || file.content === null)
        return answerRefusal('no-such-file', `There is no document "${document}" as ${format}.`);
      const word = previews.keep({ lab: lab.id, path: file.path, content: file.content });
      return sendFile(context.req.raw, file.content, {
        ...SECURITY_HEADERS.document,
        'Content-Type': typeOfPublished(file.path),
        'Content-Location': `/api/labs/${lab.id}/previews/${word}`,
      });
    }),
  );

  routes.get('/labs/:id/previews/:word', (context) => {
    const preview = previews.find(context.req.param('word'));
    if (preview === null || preview.lab !== context.req.param('id'))
      return answerRefusal('no-such-document', 'This preview is no longer kept. Make it again.');
    return sendFile(context.req.raw, preview.content, {
      ...SECURITY_HEADERS.preview,
      'Content-Type': typeOfPublished(preview.path),
    });
  });

  routes.get('/labs/:id/published', (context) =>
    withLab(context.req.param('id'), async (lab) => {
      const folder = publishedFolder(lab, parts.aside);
      const list = await readPublished(folder, 'published');
      if (!list.ok) return answerProblems(list.problems);
      if (list.value === null) return answerJson({ files: [], settings: null, changed: [] });
      const files = Object.entries(list.value.files).map(([path, digest]) => ({ path, digest }));
      const changed = await changedFiles(folder, list.value);
      return answerJson({ files, settings: list.value.settings, sources: list.value.sources, changed });
    }),
  );

  routes.get('/labs/:id/published/*', (context) =>
    withLab(context.req.param('id'), async (lab) => {
      const name = nameAfter(context.req.raw.url, 'published');
      if (name === null || !partsOfName(name).ok)
        return answerRefusal('no-such-file', 'There is no document of that name.');
      const bytes = await readInside(publishedFolder(lab, parts.aside), name, MOST_SENT_BYTES);
      if (!bytes.ok) return answerProblems(bytes.problems);
      const isKept = context.req.query('download') !== undefined;
      const isExplorer = basename(name) === 'explorer.html';
      return sendFile(context.req.raw, bytes.value, {
        ...(isExplorer ? await explorerHeaders(parts.appFolder) : SECURITY_HEADERS.document),
        'Content-Type': typeOfPublished(name),
        'Content-Disposition': `${isKept ? 'attachment' : 'inline'}; filename*=UTF-8''${encodeURIComponent(basename(name))}`,
      });
    }),
  );

  /** One line of JSON for each step, the last with the files or what is wrong; who leaves gives the work up. */
  function publish(order: DocumentOrder, requested: AbortSignal): Response {
    const leave = new AbortController();
    const signal = AbortSignal.any([requested, leave.signal]);
    const encoder = new TextEncoder();
    const stream = new ReadableStream<Uint8Array>({
      async start(controller) {
        const say = (line: object): void => {
          if (!signal.aborted) controller.enqueue(encoder.encode(`${JSON.stringify(line)}\n`));
        };
        try {
          const made = await documents.make(order, signal, (what, done, total) => say({ done, total, what }));
          if (made?.ok === false) say({ problems: made.problems.map(problemToJson) });
          else if (made !== null) {
            const files = made.value.files.map(({ path, size, digest }) => ({ path, size, digest }));
            say({ files, notes: made.value.notes.map(problemToJson) });
          }
        } catch (error) {
          const reason = error instanceof Error ? error.message : String(error);
          const message = `Something went wrong while the documents were made (${reason}).`;
          say({ problems: [problemToJson(problem('internal', {}, message, 'Please report it.'))] });
        }
        if (!signal.aborted) controller.close();
      },
      cancel() {
        leave.abort();
      },
    });
    return new Response(stream, {
      headers: { ...SECURITY_HEADERS.data, 'Content-Type': 'application/x-ndjson; charset=utf-8' },
    });
  }

  return routes;
}

interface SentSettings {
  readonly language: 'en' | 'de';
  readonly paper: 'a4' | 'letter';
  readonly decimal?: 'point' | 'comma' | undefined;
  readonly notation: 'plus-minus' | 'brackets';
  readonly labText?: string | undefined;
}

function orderFor(
  { folder }: ShelvedLab,
  sent: SentSettings,
  { version, appFolder }: ServerParts,
  wanted: Pick<DocumentOrder, 'formats' | 'documents'>,
): DocumentOrder {
  const { language, paper, notation, labText = null } = sent;
  const decimal = sent.decimal ?? (language === 'de' ? 'comma' : 'point');
  const print: PrintSettings = { language, paper, notation, decimalMark: decimal === 'comma' ? ',' : '.' };
  const explorer = builtExplorer(appFolder);
  return {
    folder,
    labText,
    settings: print,
    madeBy: `Benchwright ${version}`,
    explorer,
    to: null,
    ...wanted,
  };
}

function notUnderstood(error: z.ZodError): Response {
  const [issue] = error.issues;
  const where = issue === undefined || issue.path.length === 0 ? '' : ` (${issue.path.join(', ')})`;
  return answerRefusal('usage', `What was asked for is not understood${where}: ${issue?.message ?? ''}.`);
}
