import { formsOf, partsOf, rowsInForm } from './forms.ts'
import { isPlainWay } from './low-acid.ts'
import { type Meaning, meaningOf, meaningOfDish } from './names.ts'
import { untestedPart, untestedStyle } from './refusals.ts'
import { cuts, spelled } from './spelling.ts'
import { processTable } from './tables/index.ts'
import type { PackStyle, ProcessRow } from './types.ts'
import type { UntestedStyle } from './untested-entries.ts'

/** Ways to make something of a food; where a name says one that no table has, its form is what is refused. */
const made: ReadonlySet<string> = new Set(
  [
    ...['juice', 'sauce', 'butter', 'jam', 'jelly', 'preserves', 'conserve', 'marmalade', 'pie filling', 'syrup'],
    ...['relish', 'chutney', 'ketchup', 'salsa', 'spread', 'paste', 'nectar', 'curd', 'pickles', 'pickled', 'rings'],
  ].map(spelled),
)

/** Words beside a name that leave the food what it is. */
const idle: ReadonlySet<string> = new Set(['fresh', 'plain', 'ripe', 'unpickled'].map(spelled))

/** What a product and a form stand for: rows of the tables, or an entry that refuses them, or nothing that is listed. */
export type Understood =
  | {
      is: 'rows'
      /** Every row of the product or products. */
      all: readonly ProcessRow[]
      /** Those in the form that was asked for; all of them where none was. Empty: the form is in no table. */
      rows: readonly ProcessRow[]
      /** The only pack that the directions give for this food. */
      pack: PackStyle | undefined
    }
  | { is: 'untested'; entry: UntestedStyle }
  | { is: 'unknown' }

/**
 * Reads a product and, where given, a form. In order: a dish that is listed by both words ("apples", "sauce"), a style
 * known to be untested, a listed name with one of its forms, and a name that says its form itself ("sliced apples").
 */
export function understand(product: string, form: string | undefined): Understood {
  const parts = form === undefined ? [] : [...new Set([form, ...partsOf(form)])]
  const dish = form === undefined ? undefined : meaningOfDish(product, form)
  if (dish !== undefined) return inForm(dish, [])

  const untested = untestedStyle(product, parts)
  if (untested !== undefined) return { is: 'untested', entry: untested }

  const meaning = meaningOf(product)
  if (meaning !== undefined) return ofMeaning(product, meaning, form)

  const entry = untestedPart(product)
  if (entry !== undefined) return { is: 'untested', entry }
  return formInName(product, form)
}

function ofMeaning(product: string, meaning: Meaning, form: string | undefined): Understood {
  if (form === undefined) return inForm(meaning, [])
  const found = inForm(meaning, [form])
  if (found.rows.length > 0) return found
  // "tomatoes", "whole, packed in water": one part makes the dish, the others are its form.
  const parts = partsOf(form)
  for (const part of parts) {
    const dish = meaningOfDish(product, part)
    const others = parts.filter((other) => other !== part)
    if (dish !== undefined && others.length > 0) {
      const narrowed = inForm(dish, others)
      if (narrowed.rows.length > 0) return narrowed
    }
  }
  return found
}

/** "sliced apples", "pears halved": a listed name, and beside it words for a form. */
function formInName(product: string, form: string | undefined): Understood {
  const more = form === undefined ? [] : [form]
  let refused: Understood = { is: 'unknown' }
  for (const [name, way] of cuts(spelled(product)).flatMap(([first, second]) => [
    [first, second] as const,
    [second, first] as const,
  ])) {
    const meaning = meaningOf(name)
    if (meaning === undefined) continue
    const untested = untestedStyle(name, [way, ...more])
    if (untested !== undefined) return { is: 'untested', entry: untested }
    const found = inForm(meaning, idle.has(way) ? more : [way, ...more])
    if (found.rows.length > 0 || idle.has(way)) return found
    if (isPlainWay(way) || made.has(way)) refused = found
  }
  return refused
}

/** The rows of a meaning that are in every one of some forms. */
function inForm(meaning: Meaning, forms: readonly string[]): Extract<Understood, { is: 'rows' }> {
  const products = new Set(meaning.products)
  const all = processTable().filter((row) => products.has(row.product))
  const named = meaning.form === undefined ? all : rowsInForm(all, meaning.form)
  const rows = forms.reduce<readonly ProcessRow[]>((left, form) => rowsInForm(left, form), named)
  return { is: 'rows', all, rows, pack: meaning.pack }
}

/** The forms that tables print for some rows, in words; a row without one is named by its product. */
export function formWords(rows: readonly ProcessRow[]): readonly string[] {
  const forms = formsOf(rows)
  return forms.length > 0 ? forms : [...new Set(rows.map(({ product }) => product))]
}
