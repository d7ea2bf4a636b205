import { apportionmentMethods } from '../../../core/shares/index.ts'
import type { CoopWays } from '../../../web/asking.ts'
import { formModel, numberField, radiosField } from '../../../web/fields.ts'
import { formatFor } from '../../../web/format.ts'
import type { TypedForm } from '../../../web/forms.ts'
import { sharePeoplePath, shareRulePath, sharesPath } from '../paths.ts'
import { methodWords } from '../words.ts'
import type { RuleValues, SharingHousehold } from './queries.ts'

/** The rule in one sentence. */
export function ruleSentence(rule: RuleValues, coop: CoopWays): string {
  const format = formatFor(coop)
  const points = (many: number) => `${format.number(many, 3)} ${many === 1 ? 'point' : 'points'}`
  const need =
    rule.byNeedPercent === 0
      ? 'All jars go by points.'
      : `${rule.byNeedPercent} % of everything goes by the number of people in each household, the rest by points.`
  return `A kilogram brought counts ${points(rule.pointsPerKg)}, an hour of work ${points(rule.pointsPerHour)}, ${format.money(100)} paid ${points(rule.pointsPerMoney)}. ${need}`
}

/** The rule and the people in the households, each with its form as it stands or as it was sent. */
export function rulePage(
  given: { households: SharingHousehold[]; rule: TypedForm; people: TypedForm; version: number; agreed: boolean },
  coop: CoopWays,
) {
  const format = formatFor(coop)
  const { households, rule, people } = given
  const field = (name: string, label: string) => numberField(rule, { name, label, suffix: 'points' })
  const rows = households.map(({ id, name }) => numberField(people, { name: `people.${id}`, label: name }))
  const ruleForm = formModel(
    {
      pointsPerKg: field('pointsPerKg', 'For each kilogram that a household brought'),
      pointsPerHour: field('pointsPerHour', 'For each hour of work'),
      pointsPerMoney: field('pointsPerMoney', `For each ${format.money(100)} that a household paid`),
      byNeedPercent: numberField(rule, {
        name: 'byNeedPercent',
        label: 'Part that goes by people',
        hint: 'Of everything, shared by the number of people in every household, whatever they brought. 0: all by points. 100: all by people.',
        suffix: '%',
      }),
      method: radiosField(rule, {
        name: 'method',
        label: 'When jars do not divide evenly',
        options: apportionmentMethods.map((value) => ({
          value,
          text: methodWords[value].name,
          hint: methodWords[value].says,
        })),
      }),
    },
    rule,
  )
  const peopleForm = formModel(Object.fromEntries(rows.map((row) => [row.name, row])), people)
  return {
    title: 'What counts how much',
    place: 'shelf' as const,
    agreed: given.agreed,
    version: String(given.version),
    action: shareRulePath(),
    peopleAction: sharePeoplePath(),
    back: sharesPath(),
    form: { fields: ruleForm.fields, problems: [...ruleForm.problems, ...peopleForm.problems] },
    people: rows,
  }
}
