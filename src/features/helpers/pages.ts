import { allowedSkills } from '../../core/day/age-rules.ts'
import { type AgeBand, ageBands, stations, type WorkKind, workKinds } from '../../core/produce/vocabulary.ts'
import type { CoopWays } from '../../web/asking.ts'
import { checkboxesField, formModel, numberField, radiosField, selectField, textField } from '../../web/fields.ts'
import { type Formatter, formatFor } from '../../web/format.ts'
import type { TypedForm } from '../../web/forms.ts'
import { removalPage } from '../../web/removal.ts'
import { stationWords } from '../recipes/index.ts'
import { helperHoursPath, helperPath, helperRemovalPath, helpersPath, newHelperPath } from './paths.ts'
import type { ComingDay, Helper } from './queries.ts'

export type HouseholdName = { id: string; name: string }

export function helpersPage(
  helpers: Helper[],
  households: readonly HouseholdName[],
  days: readonly ComingDay[],
  coop: CoopWays,
) {
  const format = formatFor(coop)
  return {
    title: 'Helpers',
    place: 'coop' as const,
    sentence: helpersSentence(helpers, coop),
    add: newHelperPath(),
    rows: helpers.map((helper) => ({
      name: helper.name,
      href: helperPath(helper.id),
      household: households.find(({ id }) => id === helper.householdId)?.name ?? '',
      ageBand: helper.ageBand,
      does:
        allowedSkills(helper.ageBand, helper.skills)
          .map((skill) => skillWords[skill])
          .join(', ') || 'nothing yet',
      notCounted: notCounted(helper.ageBand, helper.skills)
        .map((skill) => skillWords[skill])
        .join(', '),
      ways: waysText(helper, format),
      hours: days.flatMap((day) => {
        const span = helper.hours.find(({ dayId }) => dayId === day.id)
        if (span === undefined) return []
        const rests = helper.breaks
          .filter(({ dayId }) => dayId === day.id)
          .map((rest) => `${format.minuteOfDay(rest.fromMinute)} to ${format.minuteOfDay(rest.toMinute)}`)
        const there = `${format.day(day.date)} ${format.minuteOfDay(span.fromMinute)} to ${format.minuteOfDay(span.toMinute)}`
        return [rests.length === 0 ? there : `${there}, break ${rests.join(' and ')}`]
      }),
    })),
  }
}

/** "75 % of the usual speed, at most 90 minutes at one station, likes the stove"; '' for nothing out of the usual. */
function waysText({ speedPercent, stretchMinutes, likes, dislikes }: Helper, format: Formatter): string {
  const named = (places: typeof likes) => places.map((station) => stationWords[station]).join(', ')
  return [
    speedPercent === 100 ? '' : `${speedPercent} % of the usual speed`,
    stretchMinutes === null ? '' : `at most ${format.count(stretchMinutes, 'minute')} at one station`,
    likes.length === 0 ? '' : `likes: ${named(likes)}`,
    dislikes.length === 0 ? '' : `rather not: ${named(dislikes)}`,
  ]
    .filter((part) => part !== '')
    .join('; ')
}

/** "6 helpers: 4 adults, 1 teen, 1 child" */
export function helpersSentence(helpers: readonly Helper[], coop: CoopWays): string {
  if (helpers.length === 0) return ''
  const format = formatFor(coop)
  const parts = [...ageBands].reverse().flatMap((band) => {
    const many = helpers.filter((helper) => helper.ageBand === band).length
    return many === 0 ? [] : [format.count(many, band, band === 'child' ? 'children' : `${band}s`)]
  })
  return `${format.count(helpers.length, 'helper')}: ${parts.join(', ')}`
}

/** The form for a new helper (`of` null) and for a change, then with the hours of the coming days. */
export function helperFormPage(
  form: TypedForm,
  of: Helper | null,
  with_: { version: number; households: readonly HouseholdName[]; days: readonly ComingDay[]; hours: TypedForm },
  coop: CoopWays,
) {
  const format = formatFor(coop)
  const places = stations.map((value) => ({ value, text: stationWords[value] }))
  const fields = {
    name: textField(form, { name: 'name', label: 'Name' }),
    ageBand: radiosField(form, {
      name: 'ageBand',
      label: 'Age band',
      options: ageBands.map((value) => ({ value, text: value, hint: bandHints[value] })),
    }),
    skills: checkboxesField(form, {
      name: 'skills',
      label: 'Knows how to',
      hint: 'What the age band forbids is remembered and not counted in plans',
      options: workKinds.map((value) => ({ value, text: skillWords[value] })),
      optional: true,
    }),
    householdId: selectField(form, {
      name: 'householdId',
      label: 'Household',
      options: [
        { value: '', text: 'none of ours' },
        ...with_.households.map(({ id, name }) => ({ value: id, text: name })),
      ],
      optional: true,
    }),
    speedPercent: numberField(form, {
      name: 'speedPercent',
      label: 'Speed, in percent',
      hint: '100 is usual; 50 takes twice as long. Timetables go by it',
    }),
    stretchMinutes: numberField(form, {
      name: 'stretchMinutes',
      label: 'Longest at one station, in minutes',
      hint: 'After that a timetable changes the work; empty: does not tire',
      optional: true,
    }),
    likes: checkboxesField(form, { name: 'likes', label: 'Likes to stand at', options: places, optional: true }),
    dislikes: checkboxesField(form, {
      name: 'dislikes',
      label: 'Would rather not stand at',
      options: places,
      optional: true,
    }),
  }
  const rows = with_.days.map((day) => ({
    name: format.date(day.date),
    hint: `the kitchen is open ${format.minuteOfDay(day.opensMinute)} to ${format.minuteOfDay(day.closesMinute)}`,
    from: textField(with_.hours, { name: `hours.${day.id}.from`, label: `${format.date(day.date)} from` }),
    to: textField(with_.hours, { name: `hours.${day.id}.to`, label: `${format.date(day.date)} until` }),
    rest: {
      name: `Break on ${format.date(day.date)}`,
      hint: 'a meal or a rest within the hours; may stay empty',
      from: textField(with_.hours, { name: `break.${day.id}.from`, label: `break on ${format.date(day.date)} from` }),
      to: textField(with_.hours, { name: `break.${day.id}.to`, label: `break on ${format.date(day.date)} until` }),
    },
  }))
  const hourFields = Object.fromEntries(
    rows.flatMap(({ from, to, rest }) => [from, to, rest.from, rest.to]).map((field) => [field.name, field]),
  )
  const left = of === null ? [] : notCounted(of.ageBand, of.skills)
  return {
    title: of === null ? 'Add a helper' : of.name,
    place: 'coop' as const,
    action: of === null ? helpersPath() : helperPath(of.id),
    button: of === null ? 'Add the helper' : 'Save',
    version: String(with_.version),
    notCounted: left.length === 0 || of === null ? '' : forbiddenText(of, left),
    fields,
    form: Object.keys(with_.hours.errors).length > 0 ? formModel(hourFields, with_.hours) : formModel(fields, form),
    hours: of === null || rows.length === 0 ? null : { action: helperHoursPath(of.id), rows },
    remove: of === null ? '' : helperRemovalPath(of.id),
    back: helpersPath(),
  }
}

/** Asks before a helper goes, with everything that is only his or hers. */
export function helperRemovalPage({ id, name }: Pick<Helper, 'id' | 'name'>) {
  return removalPage(name, {
    goes: [
      'The hours and breaks given for work days go too.',
      `Addresses by which calendar programs read the work of ${name} lead nowhere from then on.`,
    ],
    action: helperRemovalPath(id),
    back: { href: helperPath(id), text: 'Keep' },
  })
}

/** Skills that the age band does not leave standing. */
function notCounted(ageBand: AgeBand, skills: readonly WorkKind[]): WorkKind[] {
  const allowed = allowedSkills(ageBand, skills)
  return skills.filter((skill) => !allowed.includes(skill))
}

function forbiddenText({ name, ageBand }: Helper, left: readonly WorkKind[]): string {
  const words = left.map((skill) => skillWords[skill]).join(', ')
  return `Not counted for ${name}: ${words}. ${ageBand === 'child' ? 'Children are kept from knives, boiling water and hot filling.' : ''}`.trim()
}

const skillWords: Record<WorkKind, string> = {
  wash: 'wash and sort',
  cut: 'peel and cut',
  stove: 'work at the stove',
  fill: 'fill hot jars',
  pack: 'pack and label',
}

const bandHints: Record<AgeBand, string> = {
  child: 'washes and packs only: no knives, no boiling water, no hot filling',
  teen: 'at the stove and at hot filling only beside an adult',
  adult: '',
}
