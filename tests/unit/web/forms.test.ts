import { describe, expect, it } from 'vitest'
import { z } from 'zod'
import {
  checkboxesField,
  checkboxField,
  formModel,
  numberField,
  radiosField,
  textareaField,
  textField,
} from '../../../src/web/fields.ts'
import {
  blankForm,
  checkbox,
  choice,
  date,
  FIELD_LENGTH_LIMIT,
  many,
  money,
  neededText,
  optionalMoney,
  optionalText,
  optionalWholeNumber,
  readForm,
  refusedForm,
  typedBody,
  wholeNumber,
} from '../../../src/web/forms.ts'

const schema = z.object({
  name: neededText('Enter a name', 10),
  note: optionalText(20),
  count: wholeNumber('Enter how many, like 3', 1, 99),
  price: optionalMoney('Enter a price, like 2.50'),
  source: choice(['donated', 'bought'], 'Choose where it came from'),
  days: many(['fri', 'sat', 'sun'], 'Choose days from the list'),
  open: checkbox(),
  on: date('Enter a date, like 2026-09-12'),
})
const good = { name: ' Ada ', count: '3', source: 'donated', days: ['sun', 'fri'], on: '2026-09-12' }

describe('reading a form', () => {
  it('turns typed text into values, and drops what it does not know', () => {
    const form = readForm(schema, { ...good, _csrf: 'x', role: 'steward' })
    expect(form.ok && form.values).toEqual({
      name: 'Ada',
      note: null,
      count: 3,
      price: null,
      source: 'donated',
      days: ['fri', 'sun'],
      open: false,
      on: '2026-09-12',
    })
  })

  it('keeps what was typed, and says what to do for each field', () => {
    const typed = { name: '', count: '3.5', price: 'much', source: 'stolen', days: 'mon', on: '2026-02-31' }
    const form = readForm(schema, typed)
    expect(form.ok).toBe(false)
    expect(form.typed).toEqual(typed)
    expect(form.errors).toEqual({
      name: 'Enter a name',
      count: 'Enter how many, like 3',
      price: 'Enter a price, like 2.50',
      source: 'Choose where it came from',
      days: 'Choose days from the list',
      on: 'Enter a date, like 2026-09-12',
    })
  })

  it('refuses what is too long, given twice or cannot be seen', () => {
    expect(readForm(schema, { ...good, name: 'x'.repeat(11) }).errors).toEqual({ name: 'Use 10 characters or fewer' })
    expect(readForm(schema, { ...good, name: ['a', 'b'] }).errors).toEqual({ name: 'Enter one value only' })
    expect(readForm(schema, { ...good, note: 'a\u0000b' }).errors).toEqual({
      note: 'Leave out characters that cannot be seen',
    })
    expect(readForm(schema, { ...good, note: 'one\r\ntwo' })).toMatchObject({ ok: true, values: { note: 'one\ntwo' } })
  })

  it.each(['', '0', '100', '1e1', '0x10', 'NaN', 'Infinity', '-3', '3 ', ' 3'])(
    'reads the whole number %o',
    (typed) => {
      const form = readForm(z.object({ n: wholeNumber('no', 1, 99) }), { n: typed })
      expect(form.ok).toBe(typed.trim() === '3')
    },
  )

  it.each([
    ['2', 200],
    ['2.5', 250],
    ['2,50', 250],
    ['0', 0],
    ['2.505', null],
    ['-1', null],
    ['1e9', null],
    ['999999999', null],
  ])('reads the amount of money %o as %o', (typed, minor) => {
    const form = readForm(z.object({ price: money('no') }), { price: typed })
    expect(form.ok ? form.values.price : null).toBe(minor)
  })

  it.each([
    ['2028-02-29', true],
    ['2026-02-29', false],
    ['2026-13-01', false],
    ['12/09/2026', false],
  ])('takes the date %s: %s', (typed, taken) => {
    expect(readForm(z.object({ on: date('no') }), { on: typed }).ok).toBe(taken)
  })

  it('reads an empty field that is not needed as null', () => {
    const optional = z.object({ n: optionalWholeNumber('no', 0, 9), m: optionalMoney('no') })
    expect(readForm(optional, {})).toMatchObject({ ok: true, values: { n: null, m: null } })
  })
})

describe('the body of a form in a route', () => {
  it('has texts only, none beyond the limit', () => {
    expect(typedBody.safeParse({ a: 'x', b: ['y', 'z'] }).success).toBe(true)
    expect(typedBody.safeParse({ a: 'x'.repeat(FIELD_LENGTH_LIMIT + 1) }).success).toBe(false)
    expect(typedBody.safeParse({ a: { b: 'x' } }).success).toBe(false)
    expect(typedBody.safeParse({ a: 1 }).success).toBe(false)
  })
})

describe('the model of a form', () => {
  const form = refusedForm(blankForm({ name: 'Ada', days: ['sat'], open: 'yes' }), {
    name: 'That name is taken',
    '': 'The kitchen is closed then',
  })
  const model = formModel(
    {
      name: textField(form, { name: 'name', label: 'Name', hint: 'as on the list' }),
      days: checkboxesField(form, {
        name: 'days',
        label: 'Days',
        options: [
          { value: 'fri', text: 'Friday' },
          { value: 'sat', text: 'Saturday' },
        ],
      }),
      open: checkboxField(form, { name: 'open', label: 'Open' }),
      'packs.0.units': numberField(form, { name: 'packs.0.units', label: 'Units' }),
    },
    form,
  )

  it('has problems in the order of the fields, those of the whole form last', () => {
    expect(model.problems).toEqual([
      { href: '#field-name', text: 'That name is taken' },
      { href: '#field-name', text: 'The kitchen is closed then' },
    ])
  })

  it('carries what was typed, and which ids describe a field', () => {
    expect(model.fields.name).toMatchObject({ value: 'Ada', describedBy: 'field-name-hint field-name-error' })
    expect(model.fields.days.options.map(({ id, chosen }) => [id, chosen])).toEqual([
      ['field-days', false],
      ['field-days-1', true],
    ])
    expect(model.fields.open.checked).toBe(true)
    expect(model.fields['packs.0.units']).toMatchObject({ id: 'field-packs-0-units', value: '', describedBy: '' })
  })

  it('of a form that nobody has sent has no problems', () => {
    const blank = blankForm()
    const fields = {
      note: textareaField(blank, { name: 'note', label: 'Note' }),
      how: radiosField(blank, { name: 'how', label: 'How', options: [{ value: 'a', text: 'A' }] }),
    }
    expect(formModel(fields, blank).problems).toEqual([])
    expect(fields.how.options[0]?.chosen).toBe(false)
  })
})
