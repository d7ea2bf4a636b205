import { spelled } from './spelling.ts'
import type { ProcessRow } from './types.ts'

/** Other words for the ways in which tables print how food is cut, one word each way. */
const sameWay: Readonly<Record<string, readonly string[]>> = {
  sliced: ['slice', 'in slice', 'cut in slice'],
  halved: ['half', 'halve', 'in half', 'cut in half'],
  cubed: ['cube', 'in cube'],
  diced: ['dice'],
  quartered: ['quarter', 'in quarter'],
  pieces: ['piece', 'in piece', 'cut', 'cut in piece'],
  pureed: ['puree'],
  shredded: ['shred'],
  ring: ['in ring'],
  'cream style': ['creamed', 'cream'],
  'whole kernel': ['kernel', 'off the cob', 'cut off the cob'],
  'packed in water': ['in water', 'water pack', 'with water'],
  'packed in tomato juice': ['in tomato juice', 'in juice', 'in own juice'],
  'raw no added liquid': ['raw without added liquid', 'without liquid', 'no liquid'],
  'without bone': ['boneless', 'bone out'],
  'with bone': ['bone in', 'on the bone'],
}
const canonical: ReadonlyMap<string, string> = new Map(
  Object.entries(sameWay).flatMap(([way, words]) => words.map((word) => [spelled(word), spelled(way)] as const)),
)

/** The parts of a form: "halved or sliced, acidified" is three. */
export function partsOf(form: string): readonly string[] {
  return form.split(/,|;|\/| or /).filter((part) => spelled(part) !== '')
}

/**
 * The rows whose form is what is asked for: the form as printed, or else alternatives of it, all of which the row must
 * have ("halved" of "halved or sliced, acidified"). Rows without a printed form answer only when none is asked for.
 */
export function rowsInForm(rows: readonly ProcessRow[], form: string): readonly ProcessRow[] {
  const printed = rows.filter((row) => spelled(row.form) === spelled(form))
  if (printed.length > 0) return printed
  const asked = partsOf(form).map(wayOf)
  if (asked.length === 0) return []
  return rows.filter((row) => {
    const ways = new Set([wayOf(row.form), ...partsOf(row.form).map(wayOf)])
    return ways.has(wayOf(form)) || asked.every((way) => ways.has(way))
  })
}

/** The printed forms of rows, each once, for telling what there is. */
export function formsOf(rows: readonly ProcessRow[]): readonly string[] {
  return [...new Set(rows.map(({ form }) => form).filter((form) => form !== ''))]
}

function wayOf(part: string): string {
  const words = spelled(part)
  return canonical.get(words) ?? words
}
