import type { Batch } from '../../../src/core/day/batch.ts'
import { processAt, stepsOf } from '../../../src/core/day/batch.ts'
import type { Helper, Kitchen, MachineKind } from '../../../src/core/day/kitchen.ts'
import type { DayPlan } from '../../../src/core/day/plan.ts'
import { merged, type Window } from '../../../src/core/day/windows.ts'
import type { AgeBand, EquipmentKind, WorkKind } from '../../../src/core/produce/vocabulary.ts'
import { type Recipe, type Step, settleRecipe } from '../../../src/core/recipes/index.ts'
import { starters } from '../../../src/core/recipes/starters/index.ts'

// Kitchens and batches by hand.

export const everything: WorkKind[] = ['wash', 'cut', 'stove', 'fill', 'pack']

/** Work days from 8 to 18 unless told otherwise, one after the other. */
export function kitchen(
  machines: Partial<Record<EquipmentKind, number>>,
  helpers: Helper[],
  { days = 1, opens = 480, closes = 1080, clock = ['dehydrator'] as EquipmentKind[] } = {},
): Kitchen {
  const kinds = Object.entries(machines) as [EquipmentKind, number][]
  return {
    days: Array.from({ length: days }, (_, day) => ({
      id: `day-${day}`,
      date: `2026-09-${String(day + 5).padStart(2, '0')}`,
      midnight: day * 1440,
      opens: day * 1440 + opens,
      closes: day * 1440 + closes,
    })),
    machines: kinds.map(
      ([kind, count]): MachineKind => ({
        kind,
        countByDay: Array.from({ length: days }, () => count),
        aroundTheClock: clock.includes(kind),
      }),
    ),
    counterPlaces: null,
    helpers,
  }
}

export function helper(
  id: string,
  {
    skills = everything,
    ageBand = 'adult',
    speed = 1,
    hours = [{ from: 480, to: 1080 }],
  }: Partial<Helper> & { ageBand?: AgeBand } = {},
): Helper {
  return { id, name: id, ageBand, skills: [...skills], speed, hours: merged(hours) }
}

/** The same hours on several days. */
export function daily(days: number, hours: Window[]): Window[] {
  return Array.from({ length: days }, (_, day) =>
    hours.map(({ from, to }) => ({ from: from + day * 1440, to: to + day * 1440 })),
  ).flat()
}

/** One step; nothing but what is told. */
export function step(told: Partial<Omit<Step, 'minutes'>> & { minutes?: Partial<Step['minutes']> }): Step {
  return {
    says: 'Do it.',
    station: 'cut',
    work: 'cut',
    hands: 1,
    waitMinutes: 0,
    equipment: [],
    thenAtOnce: false,
    ...told,
    minutes: { perKg: 0, perUnit: 0, perRun: 0, ...told.minutes },
  }
}

/** A recipe of some steps with one pack of a kilogram a unit. */
export function recipe(steps: Step[], pack: Partial<Recipe['definition']['packs'][number]> = {}, id = 'own'): Recipe {
  return {
    id,
    name: id,
    method: 'frozen',
    definition: {
      inputs: [],
      packs: [
        {
          key: 'bag',
          unit: 'bag',
          units: 'bags',
          jar: null,
          gramsPerUnit: 1000,
          worthMinor: 100,
          runs: [],
          workPerUnit: {},
          machineMinutesPerUnit: {},
          supplies: {},
          freezerMl: 0,
          makes: null,
          ...pack,
        },
      ],
      ingredients: [],
      process: null,
      steps,
      workPerKg: {},
      cautions: [],
      source: 'made up',
    },
  }
}

export function batch(made: Recipe, units: number, more: Partial<Batch> = {}): Batch {
  const pack = more.pack ?? made.definition.packs[0]
  if (!pack) throw new Error('a recipe without packs')
  return {
    id: `${made.id}:${pack.key}@${more.day ?? 0}`,
    recipe: made,
    pack,
    day: 0,
    units,
    grams: units * pack.gramsPerUnit,
    runs: pack.runs.map((run) => Math.ceil(units / run.unitsPerRun)),
    process: null,
    ...more,
  }
}

const place = { altitudeM: 100, gauges: ['dial', 'weighted'] as const, local: [] }

/** A starter's pack as a division has it at 100 m: settled, with its process. */
export function starterBatch(key: string, packKey: string | null, units: number, day = 0): Batch {
  const found = starters.find((one) => one.key === key)
  if (!found) throw new Error(`no starter ${key}`)
  const raw: Recipe = { id: key, name: found.name, method: found.method, definition: found.definition }
  const settled = settleRecipe(raw, place).recipe
  const pack = settled.definition.packs.find((one) => packKey === null || one.key === packKey)
  if (!pack) throw new Error(`no pack ${packKey} of ${key}`)
  return batch(settled, units, {
    pack,
    day,
    process: processAt(place)(settled, pack),
  })
}

/** Minutes of hands that a batch takes by its steps and starts, and how many of them nobody will see. */
export function handsOf(of: Batch): number {
  return stepsOf(of).reduce((sum, { step: { minutes }, run }) => {
    const starts = run === null ? 1 : (of.runs[of.pack.runs.indexOf(run)] ?? 0)
    return sum + (minutes.perKg * of.grams) / 1000 + minutes.perUnit * of.units + minutes.perRun * starts
  }, 0)
}

/** Minutes of people that a plan asks for in a batch, by step. */
export function plannedHands({ activities }: DayPlan, of: Batch): Map<number, number> {
  const found = new Map<number, number>()
  for (const { activity, batch: id, phases } of activities) {
    if (id !== of.id) continue
    activity.phases.forEach(({ minutes, people = [] }, number) => {
      const at = phases[number]?.step ?? -1
      found.set(at, (found.get(at) ?? 0) + minutes * people.reduce((sum, { count }) => sum + count, 0))
    })
  }
  return found
}
