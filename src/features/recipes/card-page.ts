import { type Pack, type RecipeVerdict, type Step, unitsOfALoad } from '../../core/recipes/index.ts'
import type { CoopWays } from '../../web/asking.ts'
import { type Formatter, formatFor } from '../../web/format.ts'
import { ingredientRows, scaledFor } from './amounts-page.ts'
import { stationWords } from './making-words.ts'
import { recipePath } from './paths.ts'
import type { KeptRecipe } from './queries.ts'
import { verdictPart } from './verdict-part.ts'
import { capital, inputName, methodWords } from './words.ts'

/**
 * A recipe on paper for one batch: what goes in, the process with its source, the steps to tick off and the blanks that
 * the record of a batch needs.
 */
export function cardPage(recipe: KeptRecipe, pack: Pack, units: number, verdict: RecipeVerdict, coop: CoopWays) {
  const format = formatFor(coop)
  const scaled = scaledFor(recipe, pack, units, coop)
  const part = verdictPart(recipe, { ...verdict, packs: verdict.packs.filter((one) => one.pack === pack.key) }, coop)
  const [process] = part.packs
  const canned = recipe.method === 'water-bath-canned' || recipe.method === 'pressure-canned'
  return {
    title: recipe.name,
    place: 'coop' as const,
    sentence: `${format.count(units, pack.unit, pack.units)}, ${methodWords[recipe.method]}, from ${format.weight(scaled.usedGrams)} of raw weight.`,
    back: recipePath(recipe.id),
    version: String(recipe.version),
    refused: canned && part.refused ? `${part.heading}: not for the shelf.` : '',
    process: process === undefined || process.says === '' ? null : { ...process, says: capital(process.says) },
    standing: part.heading,
    departures: part.departures,
    inputs: scaled.inputs.map(({ from, leastGrams, mostGrams }) => ({
      name: inputName(from),
      amount:
        leastGrams === mostGrams
          ? format.weight(mostGrams)
          : `${format.weight(leastGrams)} to ${format.weight(mostGrams)}`,
    })),
    ingredients: ingredientRows(scaled),
    putUpIn: Object.entries(scaled.putUpIn).map(
      ([key, many]) => `${format.number(many)} × ${key.replaceAll('-', ' ')}`,
    ),
    steps: recipe.definition.steps.map((step) => stepRow(step, scaled.usedGrams, units, unitsOfALoad(pack), format)),
    cautions: [...recipe.definition.cautions, part.caution].filter(Boolean),
    source: recipe.definition.source,
    record: canned ? recordBlanks : keptBlanks,
  }
}

/** What must be written down of a batch while it is made. */
const recordBlanks = [
  'Date',
  'Made by',
  'Jars in',
  'Full boil or pressure at',
  'Process ended at',
  'Seals checked by',
  'Jars not sealed',
]
const keptBlanks = ['Date', 'Made by', 'How many', 'Put where']

function stepRow(step: Step, grams: number, units: number, unitsPerRun: number, format: Formatter) {
  const { perKg, perUnit, perRun } = step.minutes
  const hands = Math.max(1, step.hands)
  const minutes = ((perKg * grams) / 1000 + perUnit * units + perRun * Math.ceil(units / unitsPerRun)) / hands
  const people = step.hands > 1 ? `${step.hands} people, ` : ''
  const takes = minutes > 0 ? `${people}about ${format.duration(Math.max(1, Math.round(minutes)))}` : ''
  const waits = step.waitMinutes > 0 ? `then it waits ${format.duration(step.waitMinutes)}` : ''
  return {
    says: step.says,
    where: capital(stationWords[step.station]),
    takes: [takes, waits, step.thenAtOnce ? 'go on at once' : ''].filter(Boolean).join('; '),
  }
}

/** What a page says of the steps, for a load. */
export function stepsPart(recipe: Pick<KeptRecipe, 'definition'>, coop: CoopWays) {
  const [pack] = recipe.definition.packs
  if (pack === undefined) return { heading: '', steps: [] }
  const format = formatFor(coop)
  const units = unitsOfALoad(pack)
  return {
    heading: `How it is made: ${format.count(units, pack.unit, pack.units)}`,
    steps: recipe.definition.steps.map((step) => stepRow(step, units * pack.gramsPerUnit, units, units, format)),
  }
}
