import { fold } from '../units/tokens.ts'

/**
 * One spelling for all ways to write the same words: case, accents, hyphens, commas, extra spaces and plurals make no
 * difference, everything else does. "Plums, Halved" and "plum halved" become the same; nothing is guessed.
 */
export function spelled(text: string): string {
  return fold(text)
    .replace(/&/g, ' and ')
    .split(/[^a-z0-9]+/)
    .filter(Boolean)
    .map(singular)
    .join(' ')
}

/** The same for sizes, where a point and a stroke belong to the number: "1.5 Pints", "½ pt.", "8-oz". */
export function spelledSize(text: string): string {
  return fold(text.replaceAll('½', ' 1/2 ').replaceAll('¾', ' 3/4 ').replaceAll('(s)', 's'))
    .split(/[^a-z0-9./]+/)
    .map((word) => singular(word.replace(/\.$/, '')))
    .filter(Boolean)
    .join(' ')
}

/** Every way to cut spelled words into a first and a second part, neither of them empty. */
export function cuts(words: string): readonly (readonly [string, string])[] {
  const all = words.split(' ')
  return all.slice(1).map((_, index) => [all.slice(0, index + 1).join(' '), all.slice(index + 1).join(' ')] as const)
}

/** An English plural by its ending. What comes out need not be a word; it only has to be the same on both sides. */
function singular(word: string): string {
  if (word.length <= 3 || /(ss|us|is)$/.test(word)) return word
  if (/.ies$/.test(word) && word.length > 4) return `${word.slice(0, -3)}y`
  if (/(oes|sses|shes|ches|xes)$/.test(word)) return word.slice(0, -2)
  return word.endsWith('s') ? word.slice(0, -1) : word
}
