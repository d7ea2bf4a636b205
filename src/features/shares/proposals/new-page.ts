import type { CoopWays } from '../../../web/asking.ts'
import { checkboxesField, checkboxField, formModel, numberField, textField } from '../../../web/fields.ts'
import { formatFor } from '../../../web/format.ts'
import type { TypedForm } from '../../../web/forms.ts'
import { shareOutPath, shareRulePath, sharesPath } from '../paths.ts'
import { ruleSentence } from '../rule/pages.ts'
import { householdField, productField } from './forms.ts'
import type { ShareFacts } from './propose.ts'

/** The form of a sharing out. `like`: the proposal that it takes the place of; `since`: as the address has it. */
export function newShareOutPage(
  form: TypedForm,
  { stock, members, period, owed, rule }: ShareFacts,
  { since, like }: { since: string; like: string },
  coop: CoopWays,
) {
  const format = formatFor(coop)
  const products = stock.map(({ id, name, unit, unitsName, units }) => ({
    name,
    there: format.count(units, unit, unitsName),
    units: numberField(form, { name: productField(id, 'units'), label: 'Shared out' }),
    worth: numberField(form, {
      name: productField(id, 'worth'),
      label: `One ${unit} counts for`,
      suffix: coop.currency,
    }),
  }))
  const options = stock.map(({ id, name, unitsName }) => ({ value: id, text: `${name}, ${unitsName}` }))
  const households = members.map(({ id, name, people }) => ({
    name,
    says: `${format.count(people, 'person', 'people')}${debt(owed.get(id) ?? 0)}`,
    takes: checkboxField(form, { name: householdField(id, 'in'), label: 'takes part' }),
    kg: textField(form, { name: householdField(id, 'kg'), label: 'Produce' }),
    hours: textField(form, { name: householdField(id, 'hours'), label: 'Work', suffix: 'hours' }),
    money: numberField(form, { name: householdField(id, 'money'), label: 'Paid', suffix: coop.currency }),
    declines: checkboxesField(form, { name: householdField(id, 'declines'), label: 'Does not want', options }),
  }))
  function debt(minor: number): string {
    if (minor === 0) return ''
    return minor > 0 ? `, is owed ${format.money(minor)}` : `, had ${format.money(-minor)} too much`
  }
  const name = textField(form, { name: 'name', label: 'Name of this sharing' })
  const fields = [
    name,
    ...products.flatMap(({ units, worth }) => [units, worth]),
    ...households.flatMap(({ takes, kg, hours, money, declines }) => [takes, kg, hours, money, declines]),
  ]
  const count = stock.reduce((sum, { units }) => sum + units, 0)
  return {
    title: 'Share out jars',
    place: 'shelf' as const,
    sentence:
      count === 0
        ? 'There is nothing in shared stock that can be shared out now.'
        : `${format.count(count, 'jar')} of ${format.count(stock.length, 'product')} stand in shared stock.`,
    counted: `Produce, work and money are filled in ${period.from === null ? 'from the beginning' : `from ${format.date(period.from)}`} until ${format.date(period.until)}: change what is not right.`,
    ruleSentence: ruleSentence(rule, coop),
    rule: shareRulePath(),
    empty: count === 0,
    since,
    like,
    action: sharesPath(),
    products,
    households: households.map(({ declines, ...one }) => ({
      ...one,
      declines,
      open: declines.error !== '' || declines.options.some(({ chosen }) => chosen),
    })),
    name,
    form: formModel(Object.fromEntries(fields.map((field) => [field.name, field])), form),
    back: like === '' ? sharesPath() : shareOutPath(like),
  }
}
