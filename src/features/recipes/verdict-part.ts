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
import { capital, methodWords } from './words.ts'

/** A recipe of the co-op, or one that nobody has taken yet (no id). */
export type RecipeToShow = Pick<KeptRecipe, 'name' | 'method' | 'definition'> & { id: string | null }

/** A recipe's standing in a sentence of its own. */
export const standingWords: Record<Standing, string> = {
  tested: 'Follows a tested process',
  local: 'Follows a process that this co-op noted from its own authority',
  departs: 'Departs from the tested process',
  unknown: 'No tested process is known for it',
  'not-canned': 'Needs no heat process',
}

/**
 * What stands about the process on a recipe's page: one line a jar size, what departs and what can be done instead.
 * Times stand beside those sizes alone that follow a process.
 */
export function verdictPart(recipe: RecipeToShow, verdict: RecipeVerdict, coop: CoopWays) {
  const format = formatFor(coop)
  const canned = verdict.standing !== 'not-canned'
  const stable = verdict.packs.filter(({ shelfStable }) => shelfStable)
  const { packs } = recipe.definition
  const parts = canned ? verdict.packs.map((one) => packPart(one, packOf(packs, one.pack), coop, format)) : []
  const shared = sharedBy(parts.filter(({ says }) => says !== ''))
  return {
    heading: headingOf(verdict),
    why: onlyOfKitchen(verdict) ? 'Why' : 'How it departs',
    refused: verdict.standing === 'departs' || verdict.standing === 'unknown',
    says: canned
      ? shelfWords(stable.length, verdict.packs.length, format)
      : recipe.method === 'dried'
        ? 'Dried until it keeps on the shelf, in closed jars, out of the light.'
        : 'It is kept cold or eaten soon: it is not for the shelf.',
    packs: parts.map((part) => ({
      ...part,
      facts: part.facts.filter((fact) => !shared.facts.some((one) => same(one, fact))),
      notes: part.notes.filter((note) => !shared.notes.includes(note)),
    })),
    ...shared,
    departures: departuresOf(verdict, packs),
    instead: verdict.instead.map((method) => ({
      text: insteadWords(method),
      href: recipe.id === null ? '' : newRecipePath({ from: recipe.id, as: method }),
    })),
    caution: cautionOf(verdict),
  }
}

/** "Follows a tested process" and the like, short, for lists. */
export function standingNote(verdict: RecipeVerdict): string {
  if (verdict.standing === 'tested' && verdict.packs.some(({ shelfStable }) => !shelfStable)) {
    return 'follows a tested process in some jars'
  }
  const words = headingOf(verdict)
  return words.charAt(0).toLowerCase() + words.slice(1)
}

/** A recipe is not at fault where the kitchen has no canner for it, or nobody has said how high it lies. */
function onlyOfKitchen({ standing, packs }: RecipeVerdict): boolean {
  const kinds = packs.flatMap(({ departures }) => departures.map(({ kind }) => kind))
  return standing === 'departs' && kinds.every((kind) => kind === 'gauge-missing' || kind === 'altitude-unknown')
}

function headingOf(verdict: RecipeVerdict): string {
  return onlyOfKitchen(verdict) ? 'Cannot be canned in this kitchen as it was tested' : standingWords[verdict.standing]
}

function shelfWords(stable: number, all: number, format: Formatter): string {
  if (stable === all) return 'It may be planned, labelled and kept on the shelf.'
  if (stable === 0) return 'It is not planned, labelled or shelved as canned food.'
  return `It may be planned and kept on the shelf in ${format.number(stable)} of its ${format.number(all)} sizes.`
}

function packPart(verdict: PackVerdict, pack: Pack | undefined, coop: CoopWays, format: Formatter) {
  const { process, local } = verdict
  const follows = verdict.standing === 'tested' || verdict.standing === 'local'
  const altitude = format.altitude(coop.altitudeM)
  const fact = (name: string, says: string) => (says === '' ? [] : [{ name, says }])
  const name = capital(pack?.units ?? verdict.pack)
  if (process !== null) {
    const row = {
      href: lookUpPath({
        product: process.row.product,
        form: process.row.form,
        pack: process.pack,
        jar: process.jar,
        method: process.method,
        altitude,
      }),
      link: follows ? 'The whole row of the table' : `${name}: the tested process that it departs from`,
    }
    if (!follows) return { name, says: '', facts: [], notes: [], ...row }
    return {
      name,
      says: `${minutesText(process.minutes)}${process.psi === null ? '' : ` at ${pressureText(process)}`} in a ${processMethodWords[process.method]}, at ${altitude}`,
      facts: [
        ...fact('Headspace', headspaceText(process.headspaceIn)),
        ...fact('Acid in each', acidText(process.acid)),
        ...fact('Jars', process.sterileJars ? 'boiled empty first' : ''),
        ...fact('Source', sourceText(process.source)),
      ],
      notes: [...process.notes],
      ...row,
    }
  }
  if (local === null || !follows) return { name, says: '', facts: [], notes: [], href: '', link: '' }
  const pressure = local.kPa === null ? '' : ` at ${format.number(local.kPa)} kPa`
  return {
    name,
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
    link: '',
  }
}

type Fact = { name: string; says: string }

const same = (one: Fact, other: Fact) => one.name === other.name && one.says === other.says

/** What holds for every size is said once, below them. */
function sharedBy(parts: readonly { facts: Fact[]; notes: string[] }[]): { facts: Fact[]; notes: string[] } {
  const [first, ...others] = parts
  if (first === undefined || others.length === 0) return { facts: [], notes: [] }
  return {
    facts: first.facts.filter((fact) => others.every(({ facts }) => facts.some((one) => same(one, fact)))),
    notes: first.notes.filter((note) => others.every(({ notes }) => notes.includes(note))),
  }
}

/** Each departure once, with the sizes it is about where it is not about all. */
function departuresOf({ packs }: RecipeVerdict, sizes: readonly Pack[]) {
  const found = new Map<string, { says: string; source: string; packs: string[] }>()
  for (const { pack, departures } of packs) {
    for (const { says, source } of departures) {
      const known = found.get(says) ?? { says, source: source === null ? '' : sourceText(source), packs: [] }
      known.packs.push(packOf(sizes, pack)?.units ?? pack)
      found.set(says, known)
    }
  }
  return [...found.values()].map((one) => ({
    says: one.says,
    source: one.source,
    about: one.packs.length === packs.length ? '' : capital(one.packs.join(', ')),
  }))
}

function cautionOf({ packs }: RecipeVerdict): string {
  const method = packs.map(({ process, local }) => process?.method ?? local?.method).find((one) => one !== undefined)
  return method === undefined ? '' : processCaution(method)
}

function insteadWords(method: Method): string {
  return method === 'refrigerated' ? 'Keep it in the refrigerator' : `Make it ${methodWords[method]}`
}

function packOf(packs: readonly Pack[], key: string): Pack | undefined {
  return packs.find((pack) => pack.key === key)
}
