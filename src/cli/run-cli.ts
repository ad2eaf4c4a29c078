import { Command, CommanderError } from 'commander';
import { Stopped } from '../files/index.ts';
import type { Outcome, Problem } from '../problem/index.ts';
import { fail, nearestName, problem } from '../problem/index.ts';
import { Cancelled } from '../reconcile/index.ts';
import type { Desk } from './desk.ts';
import type { Environment, Streams } from './environment.ts';
import { exitCodeOf, exitCodes } from './exit-code.ts';
import { problemToJson } from './json/problem-json.ts';
import { type Page, pageOf } from './print/page.ts';
import { type Excerpts, printNotes, printProblems } from './print/problem-text.ts';
import { createProgress } from './progress.ts';
import type { Report, Verb } from './verb.ts';
import { verbs } from './verbs.ts';

/** Options that every verb has. */
interface CommonOptions {
  readonly json: boolean;
  readonly decimalComma: boolean;
}

/**
 * The command line as a function: arguments in, text on the streams, the exit code back.
 *
 * @param args the arguments after the program's name
 * @returns 0 done; 1 the lab has a problem; 2 not understood or not readable; 130 stopped by the user
 */
export async function runCli(
  args: readonly string[],
  streams: Streams,
  environment: Environment,
): Promise<number> {
  const common: CommonOptions = {
    json: args.includes('--json'),
    decimalComma: args.includes('--decimal-comma'),
  };
  const face = createFace(streams, environment, common);
  const progress = createProgress(streams.err, face.errPage);
  const desk: Desk = { environment, progress, opened: null };
  let code: number = exitCodes.done;
  const program = createProgram(streams, environment, face, async (verb, given, options) => {
    const outcome = await verb.run(desk, given, options);
    progress.clear();
    code = environment.signal.aborted ? exitCodes.stopped : tell(outcome, face, desk);
    if (outcome.ok) await outcome.value.goesOn?.();
  });
  try {
    await program.parseAsync(args, { from: 'user' });
    return code;
  } catch (error) {
    progress.clear();
    if (error instanceof Cancelled || error instanceof Stopped || environment.signal.aborted)
      return exitCodes.stopped;
    if (error instanceof CommanderError) return tellUsage(error, args, face, desk);
    return tell(fail(ourMistake(error, environment, streams)), face, desk);
  }
}

/** Where and how things are said. */
interface Face {
  readonly streams: Streams;
  readonly outPage: Page;
  readonly errPage: Page;
  readonly json: boolean;
}

function createFace(streams: Streams, environment: Environment, common: CommonOptions): Face {
  const mark = common.decimalComma ? ',' : '.';
  return {
    streams,
    outPage: pageOf(streams.out, environment, mark),
    errPage: pageOf(streams.err, environment, mark),
    json: common.json,
  };
}

type Act = (verb: Verb, args: readonly string[], options: Readonly<Record<string, unknown>>) => Promise<void>;

function createProgram(streams: Streams, environment: Environment, face: Face, act: Act): Command {
  const program = new Command('benchwright')
    .description('A workbench for people who develop hands-on physics labs.')
    .version(environment.version, '--version', 'print the version')
    .helpOption('--help', 'print this')
    .helpCommand(false)
    .exitOverride()
    .showSuggestionAfterError(false)
    .configureOutput({
      writeOut: (text) => streams.out.write(text),
      // What is wrong is said once, by tellUsage, in text and in JSON alike.
      writeErr: () => undefined,
      getOutHelpWidth: () => face.outPage.width,
      getErrHelpWidth: () => face.errPage.width,
      getOutHasColors: () => false,
      getErrHasColors: () => false,
    })
    .addHelpText('after', '\nStart with: benchwright reconcile tow-chain\n');
  for (const verb of verbs) {
    const command = program
      .command(verb.name)
      .description(verb.what)
      .helpOption('--help', 'print this')
      .copyInheritedSettings(program);
    verb.declare(command);
    command
      .option('--json', 'print one JSON document for programs (docs/json.md)', false)
      .option('--decimal-comma', 'print numbers with a decimal comma', false)
      .allowExcessArguments(false)
      .addHelpText('after', `\nExample:\n  ${verb.example}\n`)
      .action(async () => {
        const { json: _json, decimalComma: _comma, ...own } = command.opts<Record<string, unknown>>();
        await act(verb, command.processedArgs.filter((given) => given !== undefined).map(String), own);
      });
  }
  return program;
}

/** Prints what came out, and says with which code the program ends. */
function tell(outcome: Outcome<Report>, face: Face, desk: Desk): number {
  const excerpts = excerptsOf(desk);
  if (!outcome.ok) {
    tellProblems(outcome.problems, face, excerpts);
    if (face.json) writeJson(face, { problems: outcome.problems.map(problemToJson) });
    return exitCodeOf(outcome.problems);
  }
  const { json, print, notes, problems = [] } = outcome.value;
  if (face.json) {
    writeJson(face, { ...json, notes: notes.map(problemToJson) });
  } else {
    const printed = printNotes(face.outPage, notes, excerpts);
    const lines = [
      ...print(face.outPage),
      ...(printed.length === 0 ? [] : ['', face.outPage.paint('Notes', 'strong'), ...printed]),
    ];
    face.streams.out.write(`${lines.join('\n')}\n`);
  }
  if (problems.length === 0) return exitCodes.done;
  tellProblems(problems, face, excerpts);
  return exitCodeOf(problems);
}

function tellProblems(problems: readonly Problem[], face: Face, excerpts: Excerpts | null): void {
  face.streams.err.write(`${printProblems(face.errPage, problems, excerpts).join('\n')}\n`);
}

/** JSON has no numbers that are not finite: they stand as null. */
function writeJson(face: Face, document: Readonly<Record<string, unknown>>): void {
  face.streams.out.write(`${JSON.stringify(document, null, 2)}\n`);
}

function excerptsOf(desk: Desk): Excerpts | null {
  if (desk.opened === null) return null;
  const { folder, text } = desk.opened;
  return { prefix: folder.prefix, labFile: folder.labFile, text };
}

/** Help and version come as errors of code 0; everything else says what was not understood. */
function tellUsage(error: CommanderError, args: readonly string[], face: Face, desk: Desk): number {
  if (error.exitCode === 0) return exitCodes.done;
  return tell(fail(usageProblem(error, args)), face, desk);
}

function usageProblem(error: CommanderError, args: readonly string[]): Problem {
  const names = verbs.map((verb) => verb.name);
  const verb = args.find((arg) => !arg.startsWith('-'));
  if (verb === undefined)
    return problem(
      'usage',
      {},
      'A verb is missing.',
      `The verbs are ${names.join(', ')}. Say "benchwright --help" for more.`,
    );
  if (!names.includes(verb)) {
    const near = nearestName(verb, names);
    return problem(
      'usage',
      {},
      `"${verb}" is not a verb of benchwright.`,
      near === undefined ? `The verbs are ${names.join(', ')}.` : `Did you mean "${near}"?`,
    );
  }
  const message = error.message
    .replace(/^error: /, '')
    .replace(/\s+/g, ' ')
    .trim();
  const sentence = `${message.charAt(0).toUpperCase()}${message.slice(1)}${/[.!?]$/.test(message) ? '' : '.'}`;
  return problem('usage', {}, sentence, `Say "benchwright ${verb} --help" for its options.`);
}

/** What went wrong here is no fault of the lab; the stack is shown only to those who ask for it. */
function ourMistake(error: unknown, environment: Environment, streams: Streams): Problem {
  if (environment.variables.BENCHWRIGHT_DEBUG === '1' && error instanceof Error)
    streams.err.write(`${error.stack ?? ''}\n`);
  const reason = error instanceof Error ? error.message : String(error);
  return problem(
    'internal',
    {},
    `Something went wrong inside benchwright (${reason.split('\n')[0] ?? ''}), and nothing was written.`,
    'This is not the fault of your lab: please report it, with the command and the lab file.',
  );
}
