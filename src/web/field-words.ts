import { isRandomId } from '../ids.ts'
import { ALONE_IN } from './lengths.ts'

/** What pages put into their forms themselves, and which button was pressed: nobody typed it. */
const madeByPages: ReadonlySet<string> = new Set(['_submission', 'version', 'next', 'seen', 'answer', 'go', ALONE_IN])

/** Last words of names that say in what a value is kept, or that it leads to something: `altitudeM`, `priceMinor`, `placeId`. */
const kept: ReadonlySet<string> = new Set(['m', 'ml', 'mm', 'c', 'minor', 'id', 'ids'])

/**
 * What was typed into a form whose page is not at hand, to be read by a person: fields that were left empty and those
 * that pages fill in are left out. Each name becomes words: `jarsFilled` is "Jars filled", `packs.0.minUnits` is "Packs 1,
 * min units"; of rows that go by an id, the first is 1. What is secret must have been taken out before.
 *
 * @param typed names and values as they were sent
 */
export function wordsForTyped(typed: readonly (readonly [string, string])[]): { label: string; value: string }[] {
  const rows = new Map<string, Map<string, number>>()
  return typed
    .filter(([name]) => !madeByPages.has(name))
    .map(([name, value]) => ({ label: labelOf(name, rows), value }))
    .filter(({ value }) => value.trim() !== '')
}

/** @param rows which number each id has, by what stands before it; gains what is new */
function labelOf(name: string, rows: Map<string, Map<string, number>>): string {
  const said: string[] = []
  const parts = name.split('.')
  for (const [i, part] of parts.entries()) {
    const number = /^\d{1,4}$/.test(part)
      ? Number(part) + 1
      : isRandomId(part)
        ? rowOf(rows, parts.slice(0, i).join('.'), part)
        : 0
    if (number === 0) said.push(wordsOf(part))
    else said.push(`${said.pop() ?? 'row'} ${number}`)
  }
  const label = said.filter((words) => words !== '').join(', ')
  // a name without a letter or digit is none of ours: it is told as it is
  return label === '' ? name : `${label.charAt(0).toUpperCase()}${label.slice(1)}`
}

function rowOf(rows: Map<string, Map<string, number>>, before: string, id: string): number {
  const numbers = rows.get(before) ?? new Map<string, number>()
  rows.set(before, numbers)
  const number = numbers.get(id) ?? numbers.size + 1
  numbers.set(id, number)
  return number
}

/** `closesAt` or `closes-at` as "closes at". */
function wordsOf(part: string): string {
  const words = part
    .replace(/([a-z0-9])([A-Z])/g, '$1 $2')
    .toLowerCase()
    .split(/[^\p{L}\p{N}]+/u)
    .filter((word) => word !== '')
  const last = words.at(-1) ?? ''
  if (words.length > 1 && words.at(-2) !== 'per' && kept.has(last)) words.pop()
  return words.join(' ')
}
