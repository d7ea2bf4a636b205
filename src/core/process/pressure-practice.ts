import { type Citation, practice, seen } from './sources.ts'
import type { ProcessMethod } from './types.ts'

/** One published figure or range about working with a canner; `least` and `most` are the same where one figure is printed. */
export type PracticeFigure = {
  least: number
  most: number
  unit: 'minutes' | 'hours' | 'months' | 'inches' | 'quarts' | 'psi'
  /** For the cook. */
  says: string
  source: Citation
}

/** A rule without a figure. */
export type PracticeRule = { says: string; source: Citation }

function figure(
  [least, most]: readonly [number, number],
  unit: PracticeFigure['unit'],
  says: string,
  section: string,
  note?: string,
): PracticeFigure {
  return { least, most, unit, says, source: seen('usda-2015', `Guide 1 ${section}`, note) }
}

/** What the USDA guide says about working with a pressure canner of either gauge. */
export const pressureFigures = {
  heatUp: figure([12, 15], 'minutes', '12 to 15 minutes until steam streams out.', 'p. 1-17'),
  vent: figure(
    [10, 10],
    'minutes',
    '10 minutes of steady steam before the vent is closed or the weight set on.',
    'p. 1-17, 1-20, 1-22',
  ),
  pressurise: figure(
    [3, 5],
    'minutes',
    '3 to 5 minutes until the pressure is reached.',
    'p. 1-22',
    'p. 1-17 counts 5 minutes',
  ),
  coolBeforeOpening: figure(
    [20, 60],
    'minutes',
    '20 to 60 minutes from the end of the time until the canner is opened.',
    'p. 1-17',
    'the sum for a load on the same page, 55 to 100 minutes, holds only with the wait after the weight is off within it',
  ),
  waitAfterWeightOff: figure(
    [10, 10],
    'minutes',
    'When no pressure is left, take the weight off and wait 10 minutes before you open the lid.',
    'p. 1-22',
  ),
  heavyCannerPints: figure(
    [30, 30],
    'minutes',
    'An old heavy canner of pints loses its pressure in 30 minutes.',
    'p. 1-22',
  ),
  heavyCannerQuarts: figure(
    [45, 45],
    'minutes',
    'An old heavy canner of quarts loses its pressure in 45 minutes.',
    'p. 1-22',
  ),
  acidFoodLoad: figure([55, 100], 'minutes', '55 to 100 minutes for a load of acid food.', 'p. 1-17'),
  water: figure([2, 3], 'inches', '2 to 3 inches of water in the canner.', 'p. 1-21'),
  smallestCanner: figure([4, 4], 'quarts', 'The smallest canner holds 4 quart jars upright.', 'p. 1-17, 1-35'),
  gaugeChecked: figure([12, 12], 'months', 'Have a dial gauge checked each year.', 'p. 1-20'),
  gaugeOut: figure([2, 2], 'psi', 'Replace a dial gauge that is out by more than 2 psi.', 'p. 1-20'),
  mostPressure: figure([15, 15], 'psi', 'Never go above 15 psi.', 'p. 1-10'),
} as const satisfies Record<string, PracticeFigure>

export const pressureRules = {
  restart: {
    says: 'If the pressure falls too low at any time, bring it up again and start the full time anew.',
    source: seen('usda-2015', 'Guide 1 p. 1-22'),
  },
  coolNaturally: {
    says: 'Let the canner cool by itself. Water or an opened vent costs liquid and seals.',
    source: seen('usda-2015', 'Guide 1 p. 1-22'),
  },
} as const satisfies Record<string, PracticeRule>

/** What it says about a boiling-water canner. */
export const boilingWaterFigures = {
  heatUp: figure([20, 30], 'minutes', '20 to 30 minutes until a loaded canner boils.', 'p. 1-17'),
  waterOverJars: figure([1, 1], 'inches', '1 inch of water over the jars.', 'p. 1-18'),
  waterOverJarsLong: figure([2, 2], 'inches', '2 inches of water over the jars for more than 30 minutes.', 'p. 1-18'),
  waitAfter: figure(
    [5, 5],
    'minutes',
    'Heat off, lid off, and wait 5 minutes before you lift the jars out.',
    'p. 1-18',
  ),
  jarsCool: figure([12, 24], 'hours', 'Leave the jars alone for 12 to 24 hours.', 'p. 1-18, 1-25'),
} as const satisfies Record<string, PracticeFigure>

/** The process that has 2 inches of water over the jars is longer than this. */
const longProcessMinutes = 30

/** Inches of water over the jar tops in a boiling-water canner, for a process of so many minutes. */
export function waterOverJarsIn(minutes: number): number {
  checkMinutes(minutes)
  const { waterOverJars, waterOverJarsLong } = boilingWaterFigures
  return (minutes > longProcessMinutes ? waterOverJarsLong : waterOverJars).least
}

/** Why a steam canner is given the times of a boiling-water canner: they are not less than its own. */
export const steamPhases = practice(
  'a steam canner boils much less water, so that the times of a boiling-water canner are enough; no figures of its own',
)

/** One load of a canner in whole minutes: until the process begins, the process, and until the jars may be lifted out. */
export type LoadMinutes = { heat: number; process: number; after: number; total: number }

/**
 * How long one load occupies a canner, in whole minutes, by the middle of the published ranges; half a minute counts as
 * one. Without filling and emptying, and without the 12 to 24 hours in which the jars stand outside the canner.
 * @param minutes the time of the process at its altitude
 * @throws RangeError for what is no whole number of minutes above nothing
 */
export function loadMinutes(method: ProcessMethod, minutes: number): LoadMinutes {
  checkMinutes(minutes)
  const { before, after } = phases(method)
  const heat = Math.ceil(middle(before))
  const cool = Math.ceil(middle(after))
  return { heat, process: minutes, after: cool, total: heat + minutes + cool }
}

function phases(method: ProcessMethod): { before: readonly PracticeFigure[]; after: readonly PracticeFigure[] } {
  if (method === 'boiling-water' || method === 'steam')
    return { before: [boilingWaterFigures.heatUp], after: [boilingWaterFigures.waitAfter] }
  const { heatUp, vent, pressurise, coolBeforeOpening } = pressureFigures
  return { before: [heatUp, vent, pressurise], after: [coolBeforeOpening] }
}

function middle(figures: readonly PracticeFigure[]): number {
  return figures.reduce((sum, { least, most }) => sum + (least + most) / 2, 0)
}

function checkMinutes(minutes: number): void {
  if (!Number.isInteger(minutes) || minutes <= 0)
    throw new RangeError(`a process takes a whole number of minutes, not ${minutes}`)
}
