import { feetOf } from './altitude.ts'
import { lowAcidSource } from './low-acid.ts'
import { unclearName } from './names.ts'
import { longestSteamMinutes, steamJars, steamSource } from './steam.ts'
import {
  type JarSize,
  jarSizes,
  type PackStyle,
  type ProcessMethod,
  type ProcessRow,
  type Refusal,
  type TestedProcess,
  type Unknown,
} from './types.ts'

/** Each in the words of a sentence. */
const jarWords: Record<JarSize, string> = {
  'half-pint': 'half-pint',
  '12-ounce': '12-ounce',
  pint: 'pint',
  '1.5-pint': 'pint-and-a-half',
  quart: 'quart',
  'half-gallon': 'half-gallon',
}
const methodWords: Record<ProcessMethod, string> = {
  'boiling-water': 'a boiling-water canner',
  steam: 'a steam canner',
  'dial-gauge': 'a pressure canner with a dial gauge',
  'weighted-gauge': 'a pressure canner with a weighted gauge',
}

/** Low-acid food without pressure; with the pressure table where `rows` hold one. */
export function lowAcid(
  rows: readonly ProcessRow[],
  instead: readonly string[] = ['freeze it', 'dry it', 'pickle it by a published recipe'],
): Refusal {
  const pressure = rows.some(({ method }) => method === 'dial-gauge' || method === 'weighted-gauge')
  return refused(
    'low-acid',
    'It is low in acid (pH above 4.6): botulism can grow in the jar, and boiling water or steam does not get hot enough to stop it.',
    [...(pressure ? ['use a pressure canner, by its table'] : []), ...instead],
    lowAcidSource,
  )
}

/** A name that nothing lists, or one that says too little. */
export function unknownFood(product: string): Unknown {
  const name = unclearName(product)
  if (name !== undefined) return unknown(name.says, name.instead)
  return unknown('No table is known for that, so it is treated as untested.', [
    'look for it in the list of tested products',
    'freeze it',
    'keep it in the refrigerator and use it soon',
    'ask your local food authority',
  ])
}

/** The product has a table, but not for this way of heating. */
export function methodNotTested(rows: readonly ProcessRow[], method: ProcessMethod): Refusal {
  const tested = [...new Set(rows.map((row) => row.method))]
  return refused(
    'method-not-tested',
    `There is no table for it in ${methodWords[method]}.`,
    tested.map((one) => `use ${methodWords[one]}`),
    rows[0]?.source ?? null,
  )
}

/** The product has a table for the other pack only. */
export function packNotTested(rows: readonly ProcessRow[], pack: PackStyle | undefined): Refusal {
  const others = [...new Set(rows.map((row) => row.pack))].filter((one) => one !== pack)
  return refused(
    'pack-not-tested',
    `The directions for it have no ${pack ?? 'such'} pack: food packed otherwise heats through in another time.`,
    others.map((one) => (one === 'hot' ? 'use a hot pack: fill it in boiling' : 'use a raw pack')),
    rows[0]?.source ?? null,
  )
}

/** None of the rows lists the jar: larger than the largest one listed, or another size. */
export function jarNotTested(rows: readonly ProcessRow[], jar: JarSize, method: ProcessMethod): Refusal {
  const steamOnly = method === 'steam' && !steamJars.includes(jar)
  const listed = jarSizes.filter(
    (size) => rows.some((row) => row.jars.includes(size)) && (method !== 'steam' || steamJars.includes(size)),
  )
  const largest = listed.at(-1)
  const larger = largest === undefined || jarSizes.indexOf(jar) > jarSizes.indexOf(largest)
  return refused(
    larger ? 'jar-too-large' : 'jar-not-tested',
    larger
      ? `No time was tested in ${jarWords[jar]} jars: it takes longer for the heat to reach the middle of a larger jar, and nobody knows how long.`
      : `No time was tested in ${jarWords[jar]} jars.`,
    listed.length === 0 ? ['freeze it'] : [`use ${either(listed.map((size) => jarWords[size]))} jars`],
    steamOnly ? steamSource : (rows[0]?.source ?? null),
  )
}

/** The altitude lies above the upper edge of every row. */
export function aboveTheTable(rows: readonly ProcessRow[], altitudeM: number): Refusal {
  const edges = rows.map(({ bands }) => bands.at(-1)?.toFt ?? 0)
  const feet = Math.max(...edges)
  return refused(
    'above-the-table',
    `The table ends at ${feet.toLocaleString('en-US')} ft, and this is ${Math.ceil(feetOf(altitudeM)).toLocaleString('en-US')} ft: nothing is worked out beyond it.`,
    ['use another canner that has a table for this altitude', 'freeze it'],
    rows[0]?.source ?? null,
  )
}

/** The longest of what was found does not fit into a steam canner. */
export function tooLongForSteam(found: readonly TestedProcess[]): Refusal {
  const longest = found[0]?.minutes ?? 0
  const shorter = found.some(({ minutes }) => minutes <= longestSteamMinutes)
  return refused(
    'too-long-for-steam',
    `It takes ${longest} minutes at this altitude; a steam canner is for ${longestSteamMinutes} minutes at the most, as it cannot be filled up on the way.`,
    ['use a boiling-water canner', ...(shorter ? ['say which form and pack: some of them take less'] : [])],
    steamSource,
  )
}

/** A refusal; the source is that of the rule or the table that speaks against it. */
export function refused(
  reason: Refusal['reason'],
  says: string,
  instead: readonly string[],
  source: Refusal['source'],
): Refusal {
  return { answer: 'refused', reason, says, instead, source }
}

/** Nothing is known, which is treated as refused. */
export function unknown(says: string, instead: readonly string[]): Unknown {
  return { answer: 'unknown', says, instead }
}

/** "a", "a or b", "a, b or c". */
function either(words: readonly string[]): string {
  return words.length < 2 ? words.join() : `${words.slice(0, -1).join(', ')} or ${words.at(-1)}`
}
