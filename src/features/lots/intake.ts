import { crop, crops, type IntakeLine, readIntakeLine } from '../../core/produce/index.ts'
import { fold, parseMass } from '../../core/units/index.ts'
import type { Typed } from '../../web/forms.ts'
import { typedMass } from '../../web/typed.ts'
import { classWords, sourceWords, storageWords } from './names.ts'
import type { Neighbour } from './queries.ts'
import { weightProblem } from './weight.ts'

/** What a form says where the line says nothing. Room is the place where produce spoils soonest. */
export const assumed = { class: 'ripe', storage: 'room', source: 'donated' } as const

/** A line that was read: the form's fields as they would be typed, and what to look at before saving, in sentences. */
export type ReadBack = { typed: Typed; doubts: string[]; assumed: string }

/**
 * Reads one typed line into the fields of the form. What was not understood is kept in the note and named; so is what
 * the line does not say and the form therefore assumes.
 *
 * @param who.name stands for who brought it when the line does not say
 */
export function readBackLine(line: string, who: { name: string; neighbours: readonly Neighbour[] }): ReadBack {
  const read = readIntakeLine(line, crops)
  const brought = whoBrought(read.broughtBy, who)
  return {
    typed: {
      line,
      weight: weightTyped(read),
      crop: read.crop ?? '',
      variety: '',
      source: read.source ?? assumed.source,
      broughtBy: brought.name,
      householdId: brought.householdId,
      arrivedOn: 'today',
      storage: read.storage ?? assumed.storage,
      class: read.class ?? assumed.class,
      priceMinor: '',
      note: read.notUnderstood,
    },
    doubts: doubtsIn(read),
    assumed: assumedIn(read, who.name),
  }
}

/** The weight as it could be typed again: "2 bushels" of "2 bushels of damsons at 25.4 kg". */
function weightTyped({ weight, crop: key }: IntakeLine): string {
  if (weight === undefined) return ''
  const short = weight.reading
    .split(' and ')
    .map((part) => part.replace(/ of .*$/, '').replace(/ at [^ ]+ k?g$/, ''))
    .join(' and ')
  const again = parseMass(short, key === undefined ? undefined : crop(key))
  return again.ok && again.grams === weight.grams ? short : typedMass(weight.grams)
}

/** A member whose name, or whose first name alone, was given; or a household; or the words as they are. */
function whoBrought(
  given: string | undefined,
  { name, neighbours }: { name: string; neighbours: readonly Neighbour[] },
): { name: string; householdId: string } {
  const wanted = fold(given ?? name)
  const members = neighbours.flatMap(({ householdId, members: of }) => of.map((one) => ({ name: one, householdId })))
  const whole = members.filter((member) => fold(member.name) === wanted)
  const first = members.filter((member) => fold(member.name).split(' ')[0] === wanted)
  const household = neighbours.filter((one) => fold(one.household) === wanted)
  const [match] = whole.length > 0 ? whole : first
  if (match !== undefined && (whole.length === 1 || (whole.length === 0 && first.length === 1))) return match
  return { name: given ?? name, householdId: household[0]?.householdId ?? '' }
}

function doubtsIn(read: IntakeLine): string[] {
  const doubts: string[] = []
  if (read.notUnderstood !== '') doubts.push(`Not understood, and kept in the note: “${read.notUnderstood}”.`)
  if (read.crop === undefined) doubts.push('No crop was found in it: choose one.')
  if (read.weight === undefined) {
    const known = read.crop === undefined ? undefined : crop(read.crop)
    doubts.push(`${weightProblem(read.weightRefusal ?? 'empty', known)}.`)
  }
  return doubts
}

function assumedIn(read: IntakeLine, name: string): string {
  const missing = [
    ...(read.class === undefined ? [`mostly ${classWords[assumed.class].name}`] : []),
    ...(read.storage === undefined ? [storageWords[assumed.storage].where] : []),
    ...(read.source === undefined ? [sourceWords[assumed.source]] : []),
    ...(read.broughtBy === undefined ? [`brought by ${name}`] : []),
    'came in today',
  ]
  return `Not said, so assumed: ${missing.join(', ')}.`
}
