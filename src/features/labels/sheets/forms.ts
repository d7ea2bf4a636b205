import {
  checkGeometry,
  type GeometryProblem,
  geometryLimits,
  type Hundredths,
  hundredths,
  type LabelShape,
  mostOffset,
  type Paper,
  type SheetGeometry,
} from '../../../core/labels/index.ts'
import { mmPerInch, type UnitSystem } from '../../../core/units/index.ts'
import { fieldReader } from '../../../web/field-reader.ts'
import { choice, neededText, type ReadForm, read, type Typed, wholeNumber } from '../../../web/forms.ts'
import { ALONE_IN, lengthOf } from '../../../web/lengths.ts'
import type { OwnSheet, SheetValues } from './queries.ts'

export const paperChoices = ['A4', 'Letter', 'other'] as const
export const shapeChoices = ['rectangle', 'round'] as const
/** What a bare number is among a sheet's measures. */
export const measureUnit = { metric: 'mm', us: 'in' } as const satisfies Record<UnitSystem, string>

/**
 * Reads the form of a sheet. Its fields have the names of the geometry's parts ("label.width"), so that what
 * `checkGeometry` finds is told where it was typed; only what the chosen paper and shape need is read.
 *
 * @param alone in whose units bare numbers are
 */
export function readSheetForm(typed: Typed, alone: UnitSystem): ReadForm<SheetValues> {
  const { get, errors } = fieldReader(typed)
  const length = (name: string, optional: 'needed' | 'or none') => get(name, measure(alone, optional), 0)
  const count = (name: string) => get(name, counted, 1)
  const name = get('name', neededText('Enter a name, like “round ones for lids”', 80), '')
  const paperChoice = get('paper', choice(paperChoices, 'Choose the paper'), 'A4')
  const shape = get('shape', choice(shapeChoices, 'Choose the shape of the labels'), 'rectangle')
  const paper: Paper =
    paperChoice === 'other'
      ? { width: length('paper.width', 'needed'), height: length('paper.height', 'needed') }
      : paperChoice
  const label: LabelShape =
    shape === 'round'
      ? { shape, diameter: length('label.diameter', 'needed') }
      : {
          shape,
          width: length('label.width', 'needed'),
          height: length('label.height', 'needed'),
          corner: length('label.corner', 'or none'),
        }
  const geometry: SheetGeometry = {
    paper,
    columns: count('columns'),
    rows: count('rows'),
    label,
    margins: { top: length('margins.top', 'needed'), left: length('margins.left', 'needed') },
    gaps: { across: length('gaps.across', 'or none'), down: length('gaps.down', 'or none') },
  }
  const offset = { dx: get('shift.right', shift(alone), 0), dy: get('shift.down', shift(alone), 0) }
  // measures that could not be read have no faults of their own
  const unread = Object.keys(errors).some((field) => field !== 'name' && !field.startsWith('shift.'))
  const faults = unread ? {} : geometryFaultWords(checkGeometry(geometry), alone)
  const problems = { ...errors, ...faults }
  return Object.keys(problems).length === 0
    ? { ok: true, typed, errors: {}, values: { name, geometry, offset } }
    : { ok: false, typed, errors: problems }
}

/** What is wrong with a geometry, in words by its parts. */
export function geometryFaultWords(problems: readonly GeometryProblem[], units: UnitSystem): Record<string, string> {
  return Object.fromEntries(problems.map((problem) => [problem.at, faultWords(problem, units)]))
}

function faultWords({ at, fault, limit = 0 }: GeometryProblem, units: UnitSystem): string {
  const bound = () => typedLength(limit, units)
  switch (fault) {
    case 'not-whole':
      return 'Enter a measure, like 63.5 mm or 2 5/8 in'
    case 'too-small':
      return limit === 0 ? 'Enter 0 or more' : `Enter at least ${bound()}`
    case 'too-large':
      return `Enter at most ${bound()}`
    case 'corner-above-half':
      return `Enter at most ${bound()}: half of the shorter side`
    case 'beyond-paper':
      if (at.startsWith('margins.'))
        return `Enter at most ${bound()}: with more the first label does not lie on the paper`
      return limit === 0
        ? 'Not even one label of this size fits on the paper'
        : `Only ${limit} of these labels fit ${at === 'columns' ? 'side by side' : 'one below the other'}: check their size, margins and gaps too`
  }
}

/** The form's fields as they would be typed for these values. */
export function sheetTyped({ name, geometry, offset }: SheetValues, units: UnitSystem): Typed {
  const { paper, columns, rows, label, margins, gaps } = geometry
  const typed = (length: Hundredths) => typedLength(length, units)
  return {
    name,
    ...(typeof paper === 'string'
      ? { paper }
      : { paper: 'other', 'paper.width': typed(paper.width), 'paper.height': typed(paper.height) }),
    columns: String(columns),
    rows: String(rows),
    shape: label.shape,
    ...(label.shape === 'round'
      ? { 'label.diameter': typed(label.diameter) }
      : {
          'label.width': typed(label.width),
          'label.height': typed(label.height),
          'label.corner': typed(label.corner),
        }),
    'margins.top': typed(margins.top),
    'margins.left': typed(margins.left),
    'gaps.across': typed(gaps.across),
    'gaps.down': typed(gaps.down),
    'shift.right': typed(offset.dx),
    'shift.down': typed(offset.dy),
  }
}

/** As `sheetTyped`, with the version that it was filled in from and whose units a bare number has. */
export function ownSheetTyped(sheet: OwnSheet, units: UnitSystem): Typed {
  return { ...sheetTyped(sheet, units), version: String(sheet.version), [ALONE_IN]: units }
}

/** A length as it would be typed: reading it again gives the same. As few digits as that takes. */
export function typedLength(length: Hundredths, units: UnitSystem): string {
  if (units === 'metric') return `${length / 100} mm`
  const inches = length / 100 / mmPerInch
  for (let digits = 0; digits < mostDigits; digits++) {
    const text = inches.toFixed(digits)
    if (wholeHundredths(Number(text) * mmPerInch) === length) return `${Number(text)} in`
  }
  return `${Number(inches.toFixed(mostDigits))} in`
}

/** A ten-thousandth of an inch is a quarter of a hundredth of a millimetre. */
const mostDigits = 4

function measure(alone: UnitSystem, optional: 'needed' | 'or none') {
  return read<Hundredths>((typed) => {
    if (typed === '' && optional === 'or none') return { value: 0 }
    const length = hundredthsOf(typed, alone)
    return length === null ? { problem: `Enter a measure, like ${measureExample[alone]}` } : { value: length }
  }, 40)
}

/** How far the printer's picture is to be moved. */
function shift(alone: UnitSystem) {
  return read<Hundredths>((typed) => {
    if (typed === '') return { value: 0 }
    const length = hundredthsOf(typed, alone)
    return length === null || Math.abs(length) > mostOffset
      ? { problem: `Enter at most ${typedLength(mostOffset, 'metric')} to either side, like ${shiftExample[alone]}` }
      : { value: length }
  }, 40)
}

const measureExample = { metric: '63.5 mm', us: '2 5/8 in' } as const
const shiftExample = { metric: '-0.5 mm', us: '-1/32 in' } as const

function hundredthsOf(typed: string, alone: UnitSystem): Hundredths | null {
  const length = lengthOf(typed, measureUnit[alone])
  return length.ok ? wholeHundredths(length.metres * 1000) : null
}

/** What inches leave in the last digits is no length. */
function wholeHundredths(mm: number): Hundredths {
  return hundredths(Number(mm.toFixed(6))) + 0
}

const { least, most } = geometryLimits.count
const counted = wholeNumber(`Enter how many there are, from ${least} to ${most}`, least, most)
