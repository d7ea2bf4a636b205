import { publishedFormula } from '../process/formulas/index.ts'
import { lookUpProcess } from '../process/index.ts'
import type { JarSize, ProcessAnswer, Refusal, RefusalReason, TestedProcess } from '../process/types.ts'
import { acidDepartures } from './acid.ts'
import { type CanningMethod, isCanned } from './canned.ts'
import { departure, grams, minutes } from './departures.ts'
import { cannotCompare, formulaDepartures } from './formula-departures.ts'
import { ingredientDepartures } from './ingredient-departures.ts'
import { loadWeight } from './load-weights.ts'
import { onLocal } from './local-verdict.ts'
import { produceDepartures } from './produce-departures.ts'
import type { Pack, ProcessClaim, Recipe, RecipeDefinition } from './recipe.ts'
import type { Departure, DepartureKind, KitchenPlace, PackVerdict, RecipeVerdict, Standing } from './verdict-types.ts'
import { whatElse } from './what-else.ts'

/** A recipe as far as a verdict needs it. The name tells of white flesh, which no crop's key does. */
export type RecipeToJudge = Pick<Recipe, 'method' | 'definition'> & { name?: string | undefined }

/**
 * Holds what a recipe claims of its process against the published tables and the co-op's own notes, for each pack at
 * this place: method, jar, pack, altitude and gauge by `lookUpProcess`; then what is in it, by the row and, where the row
 * holds only as published, by the published proportions. All that differs is named; one difference is enough to leave
 * the shelf. Nothing is worked out that no table says.
 */
export function verdictOn(recipe: RecipeToJudge, place: KitchenPlace): RecipeVerdict {
  const packs = recipe.definition.packs.map((pack, number) => onPack(recipe, pack, `packs.${number}`, place))
  const standing = best(packs, isCanned(recipe.method) ? 'unknown' : 'not-canned')
  return { standing, packs, instead: isCanned(recipe.method) && !packs.every(shelfStable) ? whatElse(recipe) : [] }
}

const shelfStable = (pack: PackVerdict) => pack.shelfStable

/** From the best to the least. */
const inOrder: readonly Standing[] = ['tested', 'local', 'departs', 'unknown', 'not-canned']

function best(packs: readonly PackVerdict[], otherwise: Standing): Standing {
  return inOrder.find((standing) => packs.some((pack) => pack.standing === standing)) ?? otherwise
}

function onPack(recipe: RecipeToJudge, pack: Pack, at: string, place: KitchenPlace): PackVerdict {
  const { method, definition } = recipe
  const claim = definition.process
  const plain: PackVerdict = {
    pack: pack.key,
    standing: 'unknown',
    process: null,
    local: null,
    departures: [],
    shelfStable: false,
  }
  if (!isCanned(method)) return { ...plain, standing: 'not-canned', shelfStable: method === 'dried' }
  if (claim === null) return plain
  if (pack.jar === null) {
    const says = `No jar is named for the ${pack.unit}, and each jar has a table of its own.`
    return { ...plain, departures: [departure('jar-not-tested', at, says, null)] }
  }
  if (claim.local !== null)
    return { ...plain, ...onLocal(method, claim, claim.local, { ...pack, jar: pack.jar }, at, place) }

  const answers = ask(method, claim, pack.jar, place.altitudeM ?? 0, place)
  const tested = longest(answers)
  if (tested === undefined) {
    if (place.altitudeM === null) return { ...plain, standing: 'departs', departures: [altitudeUnknown] }
    const refused = answers.find((answer) => answer.answer === 'refused')
    if (answers.length > 0 && refused === undefined) return plain
    return { ...plain, standing: 'departs', departures: [refused ? refusal(refused, at) : noGauge] }
  }
  const departures = [
    ...(place.altitudeM === null ? [altitudeUnknown] : []),
    ...onProcess(claim, tested),
    ...onContents(recipe, pack, at, tested),
  ]
  const follows = departures.length === 0
  return {
    ...plain,
    standing: follows ? 'tested' : 'departs',
    process: place.altitudeM === null ? null : tested,
    departures,
    shelfStable: follows,
  }
}

const altitudeUnknown = departure(
  'altitude-unknown',
  '',
  'Nobody has said how high the kitchen lies, and times and pressures depend on it.',
  null,
)
const noGauge = departure(
  'gauge-missing',
  '',
  'No pressure canner with a known gauge is at hand, and each gauge has a table of its own.',
  null,
)

/** One answer in a boiling-water canner, one for each gauge at hand under pressure. */
function ask(
  method: CanningMethod,
  { product, form, pack }: ProcessClaim,
  jar: JarSize,
  altitudeM: number,
  { gauges }: KitchenPlace,
): ProcessAnswer[] {
  const query = { product, form: form ?? undefined, pack, jar, altitudeM }
  if (method === 'water-bath-canned') return [lookUpProcess({ ...query, method: 'boiling-water' })]
  return [...new Set(gauges)].map((gauge) => lookUpProcess({ ...query, method, gauge }))
}

/** The longest of the tested answers, so that it holds for whichever gauge is taken; the others are kept beside it. */
function longest(answers: readonly ProcessAnswer[]): TestedProcess | undefined {
  const tested = answers.filter((answer) => answer.answer === 'tested').toSorted((a, b) => b.minutes - a.minutes)
  const [first, ...others] = tested
  return first && { ...first, others: [...first.others, ...others] }
}

/** What a refusal is as a departure; any other reason is `refused`. */
const refusalKinds: Partial<Record<RefusalReason, DepartureKind>> = {
  'jar-too-large': 'bigger-jar',
  'jar-not-tested': 'jar-not-tested',
  'altitude-unknown': 'altitude-unknown',
  'gauge-unknown': 'gauge-missing',
}

function refusal({ reason, says, source }: Refusal, pack: string): Departure {
  const ofJar = reason === 'jar-too-large' || reason === 'jar-not-tested'
  return departure(refusalKinds[reason] ?? 'refused', ofJar ? pack : 'process', says, source)
}

/** A tenth of a millimetre: 12.7 mm are half an inch, and people write 13 or 12.7. */
const headspaceSlackMm = 0.1

function onProcess(claim: ProcessClaim, tested: TestedProcess): Departure[] {
  const { row, headspaceMm } = tested
  const found: Departure[] = []
  const first = row.bands[0]
  if (claim.minutes !== null && first !== undefined && claim.minutes < first.minutes) {
    const says = `It states ${minutes(claim.minutes)}; the table starts at ${minutes(first.minutes)}.`
    found.push(departure('shorter-time', 'process', says, row.source))
  }
  if (claim.headspaceMm !== null && headspaceMm !== null && claim.headspaceMm < headspaceMm - headspaceSlackMm) {
    const says = `It leaves ${claim.headspaceMm} mm of headspace; the table has ${Number(headspaceMm.toFixed(1))} mm (${row.headspaceIn} in).`
    found.push(departure('less-headspace', 'process', says, row.source))
  }
  return found
}

function onContents(recipe: RecipeToJudge, pack: Pack, at: string, tested: TestedProcess): Departure[] {
  const { definition, name = '' } = recipe
  const { row } = tested
  const formula = row.asPublished ? publishedFormula(row.product, row.form, cropsOf(definition)) : undefined
  const proportions = !row.asPublished
    ? []
    : formula === undefined
      ? [cannotCompare(row)]
      : formulaDepartures(definition, pack, row, formula)
  return [
    ...produceDepartures(definition, row, name),
    ...ingredientDepartures(definition.ingredients, pack, row, formula),
    ...acidDepartures(tested, definition.ingredients, pack),
    ...proportions,
    ...packedTighter(pack, at, tested),
  ]
}

function cropsOf({ inputs }: RecipeDefinition): string[] {
  return inputs.flatMap(({ from }) => ('crop' in from ? [from.crop] : []))
}

/** So much more than the published weight of a jar may be in it: fruit differs, and people press it down. Our choice. */
const tighterFactor = 1.25

function packedTighter(pack: Pack, at: string, tested: TestedProcess): Departure[] {
  const published = loadWeight(tested.row.product, tested.row.form, tested.jar)
  if (published === null || pack.gramsPerUnit <= published.grams * tighterFactor) return []
  const says = `${grams(pack.gramsPerUnit)} go into one ${pack.unit}; the published load has ${grams(published.grams)} in each.`
  return [departure('thicker-pack', at, says, published.source)]
}
