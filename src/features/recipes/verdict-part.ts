import type { Method } from '../../core/produce/vocabulary.ts'
import type { Pack, PackVerdict, RecipeVerdict, Standing } from '../../core/recipes/index.ts'
import type { CoopWays } from '../../web/asking.ts'
import { type Formatter, formatFor } from '../../web/format.ts'
import {
  acidText,
  headspaceText,
  lookUpPath,
  minutesText,
  pressureText,
  processCaution,
  processMethodWords,
  sourceText,
} from '../processes/index.ts'
import { newRecipePath } from './paths.ts'
import type { KeptRecipe } from './queries.ts'
import { methodWords } from './words.ts'

/** A recipe's standing in a sentence of its own. */
export const standingWords: Record<Standing, string> = {
  tested: 'Follows a tested process',
  local: 'Follows a process that this co-op noted from its own authority',
  departs: 'Departs from the tested process',
  unknown: 'No tested process is known for it',
  'not-canned': 'Needs no heat process',
}

/** What stands about the process on a recipe's page: one line a jar size, what departs and what can be done instead. */
export function verdictPart(
  recipe: Pick<KeptRecipe, 'id' | 'method' | 'definition'>,
  verdict: RecipeVerdict,
  coop: CoopWays,
) {
  const format = formatFor(coop)
  const canned = verdict.standing !== 'not-canned'
  const stable = verdict.packs.filter(({ shelfStable }) => shelfStable)
  return {
    heading: standingWords[verdict.standing],
    refused: verdict.standing === 'departs' || verdict.standing === 'unknown',
    says: canned
      ? shelfWords(stable.length, verdict.packs.length, format)
      : recipe.method === 'dried'
        ? 'Dried until it keeps on the shelf, in closed jars, out of the light.'
        : 'It is kept cold or eaten soon: it is not for the shelf.',
    packs: canned
      ? verdict.packs.map((one) => packPart(one, packOf(recipe.definition.packs, one.pack), coop, format))
      : [],
    departures: departuresOf(verdict),
    instead: verdict.instead.map((method) => ({
      text: insteadWords(method),
      href: newRecipePath({ from: recipe.id, as: method }),
    })),
    caution: cautionOf(verdict),
  }
}

/** "Follows a tested process" and the like, short, for lists. */
export function standingNote(verdict: RecipeVerdict): string {
  if (verdict.standing === 'tested' && verdict.packs.some(({ shelfStable }) => !shelfStable)) {
    return 'follows a tested process in some jars'
  }
  const words = standingWords[verdict.standing]
  return words.charAt(0).toLowerCase() + words.slice(1)
}

function shelfWords(stable: number, all: number, format: Formatter): string {
  if (stable === all) return 'It may be planned, labelled and kept on the shelf.'
  if (stable === 0) return 'It is not planned, labelled or shelved as canned food.'
  return `It may be planned and kept on the shelf in ${format.number(stable)} of its ${format.number(all)} sizes.`
}

function packPart(verdict: PackVerdict, pack: Pack | undefined, coop: CoopWays, format: Formatter) {
  const { process, local } = verdict
  const altitude = format.altitude(coop.altitudeM)
  const fact = (name: string, says: string) => (says === '' ? [] : [{ name, says }])
  if (process !== null) {
    return {
      name: pack?.units ?? verdict.pack,
      standing: standingWords[verdict.standing],
      says: `${minutesText(process.minutes)}${process.psi === null ? '' : ` at ${pressureText(process)}`} in a ${processMethodWords[process.method]}, at ${altitude}`,
      facts: [
        ...fact('Headspace', headspaceText(process.headspaceIn)),
        ...fact('Acid in each', acidText(process.acid)),
        ...fact('Jars', process.sterileJars ? 'boiled empty first' : ''),
        ...fact('Source', sourceText(process.source)),
      ],
      notes: [...process.notes],
      href: lookUpPath({
        product: process.row.product,
        form: process.row.form,
        pack: process.pack,
        jar: process.jar,
        method: process.method,
        altitude,
      }),
    }
  }
  if (local !== null) {
    const pressure = local.kPa === null ? '' : ` at ${format.number(local.kPa)} kPa`
    return {
      name: pack?.units ?? verdict.pack,
      standing: standingWords[verdict.standing],
      says: `${minutesText(local.minutes)}${pressure} in a ${processMethodWords[local.method]}, from ${format.altitude(local.fromM)} to ${format.altitude(local.toM)}`,
      facts: [
        ...fact('Headspace', `${format.number(local.headspaceMm)} mm`),
        ...fact('Acid in each', local.acid),
        ...fact(
          'Source',
          `${local.source}. Noted by ${local.notedBy} on ${format.date(local.notedOn)}; the co-op’s own, not checked here`,
        ),
      ],
      notes: [],
      href: '',
    }
  }
  return {
    name: pack?.units ?? verdict.pack,
    standing: standingWords[verdict.standing],
    says: '',
    facts: [],
    notes: [],
    href: '',
  }
}

/** Each departure once, with the sizes it is about where it is not about all. */
function departuresOf({ packs }: RecipeVerdict) {
  const found = new Map<string, { says: string; source: string; packs: string[] }>()
  for (const { pack, departures } of packs) {
    for (const { says, source } of departures) {
      const known = found.get(says) ?? { says, source: source === null ? '' : sourceText(source), packs: [] }
      known.packs.push(pack)
      found.set(says, known)
    }
  }
  return [...found.values()].map((one) => ({
    says: one.says,
    source: one.source,
    about: one.packs.length === packs.length ? '' : one.packs.join(', '),
  }))
}

function cautionOf({ packs }: RecipeVerdict): string {
  const method = packs.map(({ process, local }) => process?.method ?? local?.method).find((one) => one !== undefined)
  return method === undefined ? '' : processCaution(method)
}

function insteadWords(method: Method): string {
  return `Make it ${methodWords[method]}`
}

function packOf(packs: readonly Pack[], key: string): Pack | undefined {
  return packs.find((pack) => pack.key === key)
}
