import { basename } from 'node:path';
import { Hono } from 'hono';
import * as z from 'zod';
import { findLabFolder, makeFirstLab, makeLabFrom } from '../files/index.ts';
import type { Outcome } from '../problem/index.ts';
import { problem } from '../problem/index.ts';
import { answerJson, answerProblems, answerRefusal } from './answers.ts';
import { typeOfLabFile } from './content-type.ts';
import { labFinder, MOST_SENT_BYTES, nameAfter, sendFile } from './lab-answers.ts';
import { listLabFiles, readLabFile } from './lab-files.ts';
import { readBody, readJson } from './read-body.ts';
import { SECURITY_HEADERS } from './security-headers.ts';
import type { ServerParts } from './server-parts.ts';
import { describeLab } from './shelf.ts';
import { MOST_TRIAL_BYTES, takeTrial } from './take-trial.ts';
import { type Condition, MOST_TEXT_BYTES, writeLabFile } from './write-lab-file.ts';

const newLabForm = z.strictObject({ from: z.string().nullable(), name: z.string() });

/** The shelf, the labs on it and their files. */
export function labRoutes(parts: ServerParts): Hono {
  const routes = new Hono();
  const { shelf, watch, digests, turns } = parts;

  const withLab = labFinder(parts);

  routes.get('/shelf', async () => {
    const labs = await Promise.all((await shelf.all()).map(describeLab));
    return answerJson({ labs, opened: shelf.opened, version: parts.version });
  });

  routes.post('/labs', async (context) => {
    const sent = await readJson(context.req.raw);
    if (!sent.ok) return answerProblems(sent.problems);
    const form = newLabForm.safeParse(sent.value);
    if (!form.success) return answerRefusal('usage', 'A new lab is asked for with "from" and "name".');
    const { from, name } = form.data;
    if (from === null) return answerNewLab(await makeFirstLab(name, parts.folder, parts.signal), name);
    return withLab(from, async ({ folder, shown }) =>
      answerNewLab(await makeLabFrom({ folder, shown }, name, parts.folder, parts.signal), name),
    );
  });

  async function answerNewLab(made: Outcome<readonly string[]>, name: string): Promise<Response> {
    if (!made.ok) return answerProblems(made.problems);
    const place = await findLabFolder(name, parts.folder, parts.folder);
    if (!place.ok) return answerProblems(place.problems);
    parts.hub.tell({ kind: 'shelf' });
    const lab = (await shelf.all()).find((one) => one.folder.path === place.value.path);
    return lab === undefined
      ? answerProblems([problem('internal', {}, 'The new lab was made and cannot be found.')])
      : answerJson({ id: lab.id, folder: lab.shown }, 201);
  }

  routes.get('/labs/:id', (context) =>
    withLab(context.req.param('id'), async (lab) => {
      const files = await listLabFiles(lab, digests);
      if (!files.ok) return answerProblems(files.problems);
      const { id, shown, mine, folder } = lab;
      return answerJson({ id, folder: shown, mine, labFile: folder.labFile, files: files.value });
    }),
  );

  routes.get('/labs/:id/files/*', (context) =>
    withLab(context.req.param('id'), async (lab) => {
      const name = nameAfter(context.req.raw.url, 'files');
      if (name === null) return answerRefusal('no-such-file', 'There is no file of that name.');
      const bytes = await readLabFile(lab, name, MOST_SENT_BYTES);
      if (!bytes.ok) return answerProblems(bytes.problems);
      return sendFile(context.req.raw, bytes.value, {
        ...SECURITY_HEADERS.labFile,
        'Content-Type': typeOfLabFile(name),
        'Content-Disposition': `inline; filename*=UTF-8''${encodeURIComponent(basename(name))}`,
      });
    }),
  );

  routes.put('/labs/:id/files/*', (context) =>
    withLab(context.req.param('id'), async (lab) => {
      const name = nameAfter(context.req.raw.url, 'files');
      if (name === null) return answerRefusal('refused', 'A file of that name is not written here.');
      const condition = conditionOf(context.req.raw.headers);
      if (condition === null) {
        const message = 'What is written over must be named: If-Match with its digest, or If-None-Match: *.';
        return answerRefusal('condition-missing', message);
      }
      const content = await readBody(context.req.raw, MOST_TEXT_BYTES);
      if (!content.ok) return answerProblems(content.problems);
      const written = await writeLabFile(lab, name, content.value, condition, { digests, turns });
      if (!written.ok) return answerProblems(written.problems);
      const { kind, digest } = written.value;
      if (kind === 'clash') {
        const changed = problem('changed-meanwhile', { file: name }, `"${name}" has been changed meanwhile.`);
        return answerProblems([changed], { digest });
      }
      watch.told(lab, name, digest, condition.kind === 'absent');
      return answerJson({ digest });
    }),
  );

  routes.post('/labs/:id/trials', (context) =>
    withLab(context.req.param('id'), async (lab) => {
      const content = await readBody(context.req.raw, MOST_TRIAL_BYTES);
      if (!content.ok) return answerProblems(content.problems);
      const taken = await takeTrial(lab, context.req.query('name') ?? '', content.value, { digests, turns });
      if (!taken.ok) return answerProblems(taken.problems);
      const { path, digest, isNew } = taken.value;
      if (isNew) watch.told(lab, path, digest, true);
      return answerJson({ path, digest }, isNew ? 201 : 200);
    }),
  );

  return routes;
}

function conditionOf(headers: Headers): Condition | null {
  if (headers.get('if-none-match')?.trim() === '*') return { kind: 'absent' };
  const digest = /^\s*(?:W\/)?"([0-9a-f]{64})"\s*$/.exec(headers.get('if-match') ?? '')?.[1];
  return digest === undefined ? null : { kind: 'digest', digest };
}
