import type { Question } from '../../../src/core/division/index.ts'
import { type Recipe, settleRecipe } from '../../../src/core/recipes/index.ts'
import { starters } from '../../../src/core/recipes/starters/index.ts'
import type { KitchenPlace } from '../../../src/core/recipes/verdict-types.ts'
import { everything, recipe, step } from '../day/days.ts'
import { diceFrom } from '../scheduling/random-problems.ts'

export const place: KitchenPlace = { altitudeM: 100, gauges: ['dial', 'weighted'], local: [] }

/** One day from 8 to 11 with an adult and one oven: three loads of an hour by minutes, but cutting comes first. */
export function ovenMorning(change: Partial<Question> = {}): Question {
  const rings = recipe(
    [
      step({ station: 'cut', work: 'cut', minutes: { perUnit: 6 } }),
      step({ station: 'oven', work: null, equipment: ['oven'] }),
    ],
    {
      runs: [{ name: 'oven', unitsPerRun: 5, fillAtLeast: 1, machineMinutes: { oven: 60 }, work: {}, process: false }],
      workPerUnit: { cut: 6 },
    },
    'rings',
  )
  const inputs = [{ from: { crop: 'apple' }, suits: { ripe: 1 }, share: { min: 1, max: 1 }, trim: [] }]
  return {
    askedOn: '2026-09-18',
    lots: [lot('apple', 100)],
    days: [{ id: 'day-0', date: '2026-09-18', opensMinute: 480, closesMinute: 660 }],
    equipment: [machine('oven', 1)],
    helpers: [
      {
        id: 'ada',
        name: 'Ada',
        ageBand: 'adult',
        skills: everything,
        hours: [{ dayId: 'day-0', fromMinute: 480, toMinute: 660 }],
      },
    ],
    supplies: [],
    outlets: [],
    recipes: [{ ...rings, definition: { ...rings.definition, inputs } }],
    wishes: [{ recipeId: 'rings', pack: 'bag', atLeast: 0, about: 50, atMost: 50, matters: 3 }],
    budgetMinor: null,
    ...change,
  }
}

/** From 8 to 11:20 with an adult and one canner, whose load of seven takes 90 minutes with hands at both ends. */
export function cannerMorning(): Question {
  const load = { name: 'canner', unitsPerRun: 7, fillAtLeast: 1, process: false }
  const canning = step({ station: 'canner', work: 'stove', equipment: ['canner'], minutes: { perRun: 10 } })
  const runs = [{ ...load, machineMinutes: { canner: 90 }, work: { stove: 10 } }]
  return morning(
    recipe([canning], { key: 'jar', unit: 'jar', units: 'jars', runs }, 'slices'),
    [machine('canner', 1)],
    680,
  )
}

/** From 8 to 11 with an adult and nothing to do but cutting, at which as many may stand as are there. */
export function cuttingMorning(): Question {
  const cutting = step({ station: 'cut', work: 'cut', hands: 9, minutes: { perUnit: 6 } })
  return morning(recipe([cutting], { workPerUnit: { cut: 6 } }, 'rings'), [], 660)
}

function morning(made: Recipe, equipment: Question['equipment'], closesMinute: number): Question {
  const inputs = [{ from: { crop: 'apple' }, suits: { ripe: 1 }, share: { min: 1, max: 1 }, trim: [] }]
  const hours = [{ dayId: 'day-0', fromMinute: 480, toMinute: closesMinute }]
  const pack = made.definition.packs[0]?.key ?? ''
  return ovenMorning({
    days: [{ id: 'day-0', date: '2026-09-18', opensMinute: 480, closesMinute }],
    equipment,
    helpers: [{ id: 'ada', name: 'Ada', ageBand: 'adult', skills: everything, hours }],
    recipes: [{ ...made, definition: { ...made.definition, inputs } }],
    wishes: [{ recipeId: made.id, pack, atLeast: 0, about: 100, atMost: 100, matters: 3 }],
  })
}

function lot(crop: string, kg: number): Question['lots'][number] {
  return {
    id: crop,
    name: crop,
    crop,
    storage: 'cool',
    arrivedOn: '2026-09-18',
    sortedOn: '2026-09-18',
    grams: { firm: 0, ripe: kg * 1000, soft: 0, damaged: 0 },
    setAsideGrams: 0,
    lostGrams: 0,
  }
}

export function machine(kind: Question['equipment'][number]['kind'], count: number): Question['equipment'][number] {
  const freezer = kind === 'freezer'
  const aroundTheClock = freezer || kind === 'dehydrator'
  return { id: kind, kind, name: kind, count, roomMl: freezer ? 40_000 : null, aroundTheClock, outOn: [] }
}

/** A small kitchen by chance: one or two days, an adult and up to three more helpers, one to three starters' packs wished. */
export function randomQuestion(seed: number): Question {
  const dice = diceFrom(seed)
  const days = Array.from({ length: dice.whole(1, 2) }, (_, day) => ({
    id: `day-${day}`,
    date: `2026-09-${18 + day}`,
    opensMinute: 540,
    closesMinute: dice.whole(13, 18) * 60,
  }))
  const chosen = dice
    .shuffled(starters)
    .map((starter): Recipe => settleRecipe({ id: starter.key, ...starter }, place).recipe)
    .filter(({ definition }) => definition.packs.length > 0 && definition.inputs.every(({ from }) => 'crop' in from))
    .slice(0, dice.whole(1, 3))
  const crops = new Set(
    chosen.flatMap(({ definition }) => definition.inputs.flatMap(({ from }) => ('crop' in from ? [from.crop] : []))),
  )
  const supplies = new Set(
    chosen.flatMap(({ definition }) => definition.packs.flatMap((pack) => Object.keys(pack.supplies))),
  )
  return {
    askedOn: '2026-09-18',
    lots: [...crops].map((crop) => lot(crop, dice.whole(5, 40))),
    days,
    equipment: [
      machine('canner', dice.whole(1, 2)),
      machine('pressure-canner', 1),
      machine('burner', dice.whole(2, 4)),
      machine('dehydrator', dice.whole(1, 2)),
      machine('oven', 1),
      machine('press', 1),
      machine('freezer', 1),
    ],
    helpers: Array.from({ length: dice.whole(1, 4) }, (_, number) => ({
      id: `helper-${number}`,
      name: `Helper ${number}`,
      ageBand: number === 0 ? ('adult' as const) : dice.oneOf(['teen', 'adult'] as const),
      skills: number === 0 ? everything : everything.filter(() => dice.yes(0.7)),
      hours: days.map(({ id, closesMinute }) => ({
        dayId: id,
        fromMinute: number === 0 ? 540 : dice.whole(9, 11) * 60,
        toMinute: closesMinute,
      })),
    })),
    supplies: [...supplies].map((key) => ({
      key,
      name: key,
      unit: '',
      onHand: 200,
      packSize: 12,
      packPriceMinor: 300,
      packsAtMost: 2,
    })),
    outlets: [],
    recipes: chosen,
    wishes: chosen.map(({ id, definition }) => {
      const about = dice.whole(4, 24)
      return {
        recipeId: id,
        pack: dice.oneOf(definition.packs).key,
        atLeast: 0,
        about,
        atMost: about + dice.whole(0, 8),
        matters: dice.oneOf([1, 2, 3] as const),
      }
    }),
    budgetMinor: null,
  }
}
