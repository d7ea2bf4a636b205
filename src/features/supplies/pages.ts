import type { CoopWays } from '../../web/asking.ts'
import { formModel, numberField, selectField, textField } from '../../web/fields.ts'
import { type Formatter, formatFor } from '../../web/format.ts'
import type { TypedForm } from '../../web/forms.ts'
import { buySupplyPath } from '../shelf/paths.ts'
import { supplyUnits, typedAmount } from './forms.ts'
import { newSupplyPath, suppliesPath, supplyCountsPath, supplyPath, supplyRemovalPath } from './paths.ts'
import type { Supply } from './queries.ts'

/** How many recipes in use name each supply, by key. */
export type Needs = ReadonlyMap<string, number>

export function suppliesPage(supplies: Supply[], needs: Needs, form: TypedForm, coop: CoopWays) {
  const format = formatFor(coop)
  const rows = supplies.map((supply) => ({
    name: supply.name,
    href: supplyPath(supply.id),
    field: numberField(form, { name: `onHand.${supply.id}`, label: `${supply.name} on hand` }),
    shownName: `shown.${supply.id}`,
    shown: String(supply.onHand),
    unit: wordOf(supply.unit),
    pack: `${amountText(supply.packSize, supply.unit, format)} for ${format.money(supply.packPriceMinor)}`,
    mayBuy: supply.packsAtMost === 0 ? 'none' : format.count(supply.packsAtMost, 'pack'),
    recipes: format.number(needs.get(supply.key) ?? 0),
  }))
  return {
    title: 'Supplies',
    place: 'coop' as const,
    sentence: suppliesSentence(supplies, coop),
    rows,
    counts: supplyCountsPath(),
    add: newSupplyPath(),
    missing: [...needs.keys()].filter((key) => !supplies.some((supply) => supply.key === key)),
    form: formModel(Object.fromEntries(rows.map((row) => [row.field.name, row.field])), form),
  }
}

/** What stands in the fields of the list before anybody typed. */
export function countsTyped(supplies: readonly Supply[]): Record<string, string> {
  return Object.fromEntries(supplies.map(({ id, unit, onHand }) => [`onHand.${id}`, typedAmount(onHand, unit)]))
}

/** "9 supplies, of which lids are used up" */
export function suppliesSentence(supplies: readonly Supply[], coop: CoopWays): string {
  if (supplies.length === 0) return ''
  const many = formatFor(coop).count(supplies.length, 'supply', 'supplies')
  const gone = usedUp(supplies)
  return gone.length === 0 ? `${many}, some of each on hand` : `${many}; used up: ${gone.join(', ')}`
}

/** The names of supplies of which nothing is on hand. */
export function usedUp(supplies: readonly Supply[]): string[] {
  return supplies.filter((supply) => supply.onHand === 0).map((supply) => supply.name)
}

/** The form for a new supply (`of` null) and for a change. */
export function supplyFormPage(form: TypedForm, of: Supply | null, version: number) {
  const key = textField(form, {
    name: 'key',
    label: 'Short name',
    hint: 'What recipes call it, like jar-pint; empty: made from the name',
    optional: true,
  })
  const fields = {
    name: textField(form, { name: 'name', label: 'Name', hint: 'Pint jars, cider vinegar 5 %' }),
    unit: selectField(form, {
      name: 'unit',
      label: 'Counted in',
      options: [{ value: '', text: 'Choose' }, ...supplyUnits.map((value) => ({ value, text: wordOf(value) }))],
    }),
    onHand: numberField(form, { name: 'onHand', label: 'On hand', hint: 'A number, or “9 kg”, “500 ml”' }),
    packSize: numberField(form, { name: 'packSize', label: 'In a pack', hint: 'As it is sold: 12 lids, “2 kg”' }),
    packPriceMinor: numberField(form, { name: 'packPriceMinor', label: 'Price of a pack', hint: 'Like 4.50' }),
    packsAtMost: numberField(form, { name: 'packsAtMost', label: 'Packs that may be bought at most', hint: '0: none' }),
  }
  return {
    title: of === null ? 'Add a supply' : `Change ${of.name}`,
    place: 'coop' as const,
    action: of === null ? suppliesPath() : supplyPath(of.id),
    button: of === null ? 'Add it' : 'Save',
    version: String(version),
    knownAs: of === null ? '' : of.key,
    key,
    buy: of === null ? '' : buySupplyPath(of.id),
    remove: of === null ? '' : supplyRemovalPath(of.id),
    back: suppliesPath(),
    form: formModel(of === null ? { ...fields, key } : fields, form),
    fields,
  }
}

function amountText(amount: number, unit: string, format: Formatter): string {
  if (unit === 'g') return format.weight(amount)
  return unit === 'ml' ? format.volume(amount) : format.number(amount)
}

function wordOf(unit: string): string {
  return { jar: 'jars', lid: 'lids', bag: 'bags', piece: 'pieces', g: 'grams', ml: 'millilitres' }[unit] ?? unit
}
