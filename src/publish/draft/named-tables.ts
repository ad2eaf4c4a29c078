import type { Block } from '../document/index.ts';
import { draftComparison } from './comparison.ts';
import { draftData } from './data-table.ts';
import type { Desk } from './desk.ts';
import { draftExpected, draftKits, draftStations } from './expected-results.ts';
import { draftModels } from './models.ts';
import { draftSetUp } from './set-up.ts';
import { draftEquipment } from './sheets.ts';
import { draftSlips } from './slips.ts';
import { draftStepLoop } from './step-loop.ts';
import { draftSteps } from './steps-table.ts';

/** Drafted tables by the name under which a text asks for them; what is no table in a draft is passed over. */
export const draftTables: Readonly<Record<string, (desk: Desk) => readonly Block[]>> = {
  quantities: (desk) => draftSetUp(desk, 'staff').blocks,
  equipment: (desk) => draftEquipment(desk).flatMap(({ blocks }) => blocks),
  data: (desk) => draftData(desk).blocks,
  comparison: (desk) => draftComparison(desk).blocks,
  results: (desk) => draftExpected(desk).blocks,
  kits: (desk) => draftKits(desk).flatMap(({ blocks }) => blocks),
  stations: (desk) => draftStations(desk).flatMap(({ blocks }) => blocks),
  models: (desk) => draftModels(desk).flatMap(({ blocks }) => blocks),
  slips: (desk) => draftSlips(desk).flatMap(({ blocks }) => blocks),
  steps: (desk) => draftSteps(desk).flatMap(({ blocks }) => blocks),
  'first steps': draftStepLoop,
};
