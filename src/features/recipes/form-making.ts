import { jarSizes, packStyles } from '../../core/process/index.ts'
import { stations, workKinds } from '../../core/produce/vocabulary.ts'
import { ingredientKinds } from '../../core/recipes/index.ts'
import { checkboxField, numberField, type Option, selectField, textField } from '../../web/fields.ts'
import type { TypedForm } from '../../web/forms.ts'
import { jarWords, packWords } from '../processes/index.ts'
import { type Choices, type Keep, withTyped } from './form-rows.ts'
import { ingredientKindWords, stationWords, workWords } from './making-words.ts'

const none: Option = { value: '', text: 'none' }

/** A row of what goes in beside produce. */
export function ingredientRow(form: TypedForm, at: string, row: number, { supplies }: Choices, keep: Keep) {
  const which = `Ingredient ${row + 1}`
  return {
    name: keep(
      textField(form, {
        name: `${at}.name`,
        label: which,
        hint: row === 0 ? 'Bottled lemon juice, sugar, flour, onions' : '',
        optional: true,
      }),
    ),
    kind: keep(
      selectField(form, {
        name: `${at}.kind`,
        label: `${which} is`,
        options: [none, ...ingredientKinds.map((value) => ({ value, text: ingredientKindWords[value] }))],
        optional: true,
      }),
    ),
    perKg: keep(
      numberField(form, {
        name: `${at}.perKg`,
        label: `${which} for each kilogram of produce`,
        hint: row === 0 ? '“110 g”, “1/2 cup”' : '',
        optional: true,
      }),
    ),
    perUnit: keep(
      textField(form, {
        name: `${at}.perUnit`,
        label: `${which} for each jar`,
        hint: row === 0 ? 'By the short name of the size: “quart 2 tbsp, pint 1 tbsp”' : '',
        optional: true,
      }),
    ),
    supply: keep(
      selectField(form, {
        name: `${at}.supply`,
        label: `${which} comes from the supply`,
        options: withTyped(
          [{ value: '', text: 'named like it' }, ...supplies.map(({ key, name }) => ({ value: key, text: name }))],
          form.typed[`${at}.supply`],
        ),
        optional: true,
      }),
    ),
  }
}

/** What the recipe claims of its process. */
export function claimRows(form: TypedForm, { products, local }: Choices, keep: Keep) {
  return {
    product: keep(
      textField(form, {
        name: 'process.product',
        label: 'Made like',
        hint: 'The product of a tested table: plums, apple pie filling, tomatoes, crushed. Empty: not canned',
        optional: true,
      }),
    ),
    products,
    form: keep(
      textField(form, {
        name: 'process.form',
        label: 'In which form',
        hint: 'As the table has it: halved or whole',
        optional: true,
      }),
    ),
    pack: keep(
      selectField(form, {
        name: 'process.pack',
        label: 'Packed how',
        options: [none, ...packStyles.map((value) => ({ value, text: packWords[value] }))],
        optional: true,
      }),
    ),
    local: keep(
      selectField(form, {
        name: 'process.local',
        label: 'Or by a process of our own authority',
        options: withTyped([{ value: '', text: 'no, by the published tables' }, ...local], form.typed['process.local']),
        optional: true,
      }),
    ),
    minutes: keep(
      numberField(form, {
        name: 'process.minutes',
        label: 'Minutes that the recipe itself states',
        hint: 'For up to 1,000 ft. Empty: the table’s',
        optional: true,
      }),
    ),
    headspaceMm: keep(
      textField(form, {
        name: 'process.headspaceMm',
        label: 'Headspace that it states',
        hint: '“13 mm”, “1/2 in”. Empty: the table’s',
        optional: true,
      }),
    ),
  }
}

/** One step of the making. */
export function stepRow(form: TypedForm, at: string, row: number, keep: Keep) {
  const which = `Step ${row + 1}`
  const number = (name: string, label: string, hint = '') =>
    keep(
      numberField(form, {
        name: `${at}.${name}`,
        label: `${which}: ${label}`,
        hint: row === 0 ? hint : '',
        optional: true,
      }),
    )
  return {
    says: keep(
      textField(form, {
        name: `${at}.says`,
        label: which,
        hint: row === 0 ? 'What is done, in plain words' : '',
        optional: true,
      }),
    ),
    station: keep(
      selectField(form, {
        name: `${at}.station`,
        label: `${which}: where`,
        options: [none, ...stations.map((value) => ({ value, text: stationWords[value] }))],
        optional: true,
      }),
    ),
    work: keep(
      selectField(form, {
        name: `${at}.work`,
        label: `${which}: what skill`,
        options: [
          { value: '', text: 'nobody is needed' },
          ...workKinds.map((value) => ({ value, text: workWords[value] })),
        ],
        optional: true,
      }),
    ),
    hands: number('hands', 'people at once', 'Empty: one'),
    perKg: number('perKg', 'minutes for each kilogram'),
    perUnit: number('perUnit', 'minutes for each jar'),
    perRun: number('perRun', 'minutes for each load'),
    waitMinutes: number('waitMinutes', 'then it waits', '“45 min”, “12 h”'),
    equipment: keep(
      textField(form, {
        name: `${at}.equipment`,
        label: `${which}: machines`,
        hint: row === 0 ? '“burner”, “canner, burner”' : '',
        optional: true,
      }),
    ),
    thenAtOnce: keep(
      checkboxField(form, { name: `${at}.thenAtOnce`, label: `${which}: the next one follows at once` }),
    ),
  }
}

/** The jar of a pack. */
export function jarOfPack(form: TypedForm, at: string, keep: Keep) {
  return keep(
    selectField(form, {
      name: `${at}.jar`,
      label: 'Jar it is heated in',
      options: [
        { value: '', text: 'none: a bag, a tray, a crock' },
        ...jarSizes.map((value) => ({ value, text: jarWords[value].one })),
      ],
      optional: true,
    }),
  )
}
