import {
  isCanned,
  type Pack,
  type RecipeDefinition,
  type RecipeVerdict,
  type ScaledRecipe,
  type Step,
  unitsOfALoad,
} from '../../core/recipes/index.ts'
import { byWater } from '../../core/recipes/starters/cautions.ts'
import type { CoopWays } from '../../web/asking.ts'
import { type Formatter, formatFor } from '../../web/format.ts'
import { ingredientRows, scaledFor } from './amounts-page.ts'
import { stationWords, supplyAmount } from './making-words.ts'
import { type Names, unitsText } from './pack-part.ts'
import { recipePath } from './paths.ts'
import type { KeptRecipe } from './queries.ts'
import { verdictPart } from './verdict-part.ts'
import { capital, inputName, materialName, methodWords } from './words.ts'

/**
 * A recipe on paper for one batch: what goes in, the process with its source, the steps to tick off and the blanks that
 * the record of a batch needs.
 */
export function cardPage(
  recipe: KeptRecipe,
  { pack, units }: { pack: Pack; units: number },
  { names, verdict, coop }: { names: Names; verdict: RecipeVerdict; coop: CoopWays },
) {
  const format = formatFor(coop)
  const scaled = scaledFor(recipe, pack, units, coop)
  const ofPack = verdict.packs.filter((one) => one.pack === pack.key)
  const part = verdictPart(recipe, { ...verdict, standing: ofPack[0]?.standing ?? 'unknown', packs: ofPack }, coop)
  const [process] = part.packs
  return {
    title: `${recipe.name}: card for the kitchen`,
    heading: recipe.name,
    place: 'coop' as const,
    sentence: `${unitsText(units, pack, format)}, ${methodWords[recipe.method]}, from ${format.weight(scaled.usedGrams)} of raw weight${loadsText(scaled.loads, format)}.`,
    back: recipePath(recipe.id),
    version: String(recipe.version),
    refused: isCanned(recipe.method) && part.refused ? `${part.heading}: not for the shelf.` : '',
    process: process === undefined || process.says === '' ? null : { ...process, says: capital(process.says) },
    standing: part.heading,
    departures: part.departures,
    inputs: scaled.inputs.map(({ from, leastGrams, mostGrams }) => ({
      name: capital(inputName(from)),
      amount:
        leastGrams === mostGrams
          ? format.weight(mostGrams)
          : `${format.weight(leastGrams)} to ${format.weight(mostGrams)}`,
    })),
    ingredients: ingredientRows(scaled),
    putUpIn: Object.entries(scaled.putUpIn).map(([key, many]) => ({
      name: capital(names.supplies.get(key)?.name ?? materialName(key)),
      amount: supplyAmount(many, names.supplies.get(key)?.unit ?? '', format),
    })),
    steps: recipe.definition.steps.map((step) => stepRow(step, scaled.usedGrams, units, unitsOfALoad(pack), format)),
    cautions: [...ownCautions(recipe.definition, part.caution), part.caution].filter(Boolean).join(' '),
    source: recipe.definition.source,
    record:
      isCanned(recipe.method) && process !== undefined && process.says !== ''
        ? recordBlanks[recipe.method]
        : keptBlanks,
  }
}

/** What a canner load must write down, as `checkRecord` asks for it. */
const sealBlanks = ['Seals tried at, by', 'Sealed', 'Not sealed, went to']
const recordBlanks = {
  'water-bath-canned': [
    'Date',
    'Made by',
    'Canner',
    'Jars in',
    'Full boil at',
    'Boil lost, back at',
    'Heat off at',
    ...sealBlanks,
  ],
  'pressure-canned': [
    'Date',
    'Made by',
    'Canner and gauge',
    'Jars in',
    'Vented, minutes',
    'Pressure reached at',
    'Lowest pressure',
    'Lost, back at',
    'Heat off at',
    ...sealBlanks,
  ],
}
const keptBlanks = ['Date', 'Made by', 'How many', 'Put where']

/** ", in 10 × canner load"; nothing for a single one. */
function loadsText(loads: ScaledRecipe['loads'], format: Formatter): string {
  const several = loads.filter(({ many }) => many > 1).map(({ name, many }) => `${format.number(many)} × ${name}`)
  return several.length === 0 ? '' : `, in ${several.join(' and ')}`
}

function stepRow(step: Step, grams: number, units: number, unitsPerRun: number, format: Formatter) {
  const { perKg, perUnit, perRun } = step.minutes
  const hands = Math.max(1, step.hands)
  const minutes = ((perKg * grams) / 1000 + perUnit * units + perRun * Math.ceil(units / unitsPerRun)) / hands
  const people = step.hands > 1 ? `${step.hands} people, ` : ''
  const takes = minutes > 0 ? `${people}about ${format.duration(Math.max(1, Math.round(minutes)))}` : ''
  const waits = step.waitMinutes > 0 ? `wait ${waitText(step.waitMinutes, format)}` : ''
  return {
    says: step.says,
    where: capital(stationWords[step.station]),
    takes: [takes, waits, step.thenAtOnce ? 'go on at once' : ''].filter(Boolean).join('; '),
  }
}

/** The recipe's own cautions, without the usual one where the process says as much and more. */
export function ownCautions({ cautions }: RecipeDefinition, ofProcess: string): string[] {
  return cautions.filter((one) => ofProcess === '' || one !== byWater)
}

/** "45 min", "12 h", "7 days" */
function waitText(minutes: number, format: Formatter): string {
  const days = minutes / 1440
  return days >= 2 && Number.isInteger(days) ? format.count(days, 'day') : format.duration(minutes)
}

/** What a page says of the steps, for a load. */
export function stepsPart(recipe: Pick<KeptRecipe, 'definition'>, coop: CoopWays) {
  const [pack] = recipe.definition.packs
  if (pack === undefined) return { heading: '', steps: [] }
  const format = formatFor(coop)
  const units = unitsOfALoad(pack)
  return {
    heading: `How it is made: ${unitsText(units, pack, format)}`,
    steps: recipe.definition.steps.map((step) => stepRow(step, units * pack.gramsPerUnit, units, units, format)),
  }
}
