import type { Citation } from '../process/sources.ts'

/** What takes days or months. */
export const slowKinds = ['vinegar', 'ferment', 'drying', 'macerating', 'ageing'] as const
export type SlowKind = (typeof slowKinds)[number]

/** What can be found out at a stage. `taste` is whatever eyes, nose, fingers and tongue tell. */
export const slowMeasures = ['ph', 'acidity', 'temperature', 'weight', 'taste'] as const
export type SlowMeasure = (typeof slowMeasures)[number]

/** What the figure should be. Degrees Celsius; acidity in grams of acetic acid in 100 ml (per cent); or words. */
export type Target =
  | { kind: 'temperature'; lowC: number; highC: number }
  | { kind: 'ph-below'; ph: number }
  | { kind: 'acidity-least'; percent: number }
  | { kind: 'look'; says: string }

/** A stage as it is written down for every job of its way. */
export type StageTemplate = {
  /** From 1; the same for as long as the program lives, and no other stage of the same kind of job has it. */
  number: number
  /** What to do, in a line. */
  says: string
  /** What the days are counted from: the start, or the day on which another stage, told before this one, is due. */
  after: 'start' | number
  days: number
  measure: SlowMeasure | null
  target: Target | null
  source: Citation
}

/** What the stages depend on, besides the way. */
export type Given = {
  /** Of the place where it stands; null: not known. */
  temperatureC: number | null
}

/** One way of doing a slow job. */
export type Way = {
  id: string
  kind: SlowKind
  name: string
  /** What must be said beside it, a plain paragraph each. */
  cautions: readonly string[]
  /** Whether its stages depend on the temperature. */
  asksTemperature: boolean
  /** The stages in order, or why it may not be begun so. The numbers are the same whatever is given. */
  stages(given: Given): readonly StageTemplate[] | { refused: string }
}

/** Numbers from here on are stages of one's own, of which no template knows. */
export const ownStagesFrom = 1000

/** Makes a stage; nothing measured unless said. */
export function stage(
  number: number,
  days: number,
  says: string,
  source: Citation,
  more: { after?: number; measure?: SlowMeasure; target?: Target } = {},
): StageTemplate {
  return {
    number,
    says,
    days,
    source,
    after: more.after ?? 'start',
    measure: more.measure ?? null,
    target: more.target ?? null,
  }
}

/** A way whose stages depend on nothing. */
export function fixedWay(way: Omit<Way, 'stages' | 'asksTemperature'>, stages: readonly StageTemplate[]): Way {
  return { ...way, asksTemperature: false, stages: () => stages }
}
