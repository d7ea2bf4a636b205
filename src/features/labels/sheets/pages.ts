import { geometryName, knownSheets, noOffset, type PrinterOffset } from '../../../core/labels/index.ts'
import type { UnitSystem } from '../../../core/units/index.ts'
import type { CoopWays } from '../../../web/asking.ts'
import { formModel, numberField, radiosField, textField } from '../../../web/fields.ts'
import { type Formatter, formatFor } from '../../../web/format.ts'
import type { TypedForm } from '../../../web/forms.ts'
import { type SheetDrawing, sheetDrawing } from '../drawing.ts'
import {
  labelSheetPath,
  labelSheetRemovalPath,
  labelSheetsPath,
  labelsPath,
  labelTestPagePath,
  newLabelSheetPath,
} from '../paths.ts'
import { measureUnit, readSheetForm, typedLength } from './forms.ts'
import type { OwnSheet } from './queries.ts'

export function sheetsPage(sheets: readonly OwnSheet[], coop: CoopWays) {
  const format = formatFor(coop)
  return {
    title: 'Sheets of labels',
    place: 'shelf' as const,
    own: sheets.map(({ id, name, geometry, offset }) => ({
      href: labelSheetPath(id),
      name,
      measures: geometryName(geometry),
      labels: labelsOn(geometry, format),
      shift: shiftWords(offset, coop.units),
      test: labelTestPagePath(id),
    })),
    known: knownSheets.map(({ name, geometry }) => ({
      name,
      labels: labelsOn(geometry, format),
      copy: newLabelSheetPath(name),
    })),
    add: newLabelSheetPath(),
    back: labelsPath(),
  }
}

/** The form for a new sheet (`of` null) and for a change, with a drawing where the measures go together. */
export function sheetPage(
  form: TypedForm,
  { of, version, alone }: { of: OwnSheet | null; version: number; alone: UnitSystem },
) {
  const unit = measureUnit[alone]
  const length = (name: string, label: string, hint = '', optional = false) =>
    numberField(form, { name, label, hint, optional })
  const { drawing, says } = drawingOf(form, alone)
  return {
    title: of === null ? 'Add a sheet of labels' : `Change ${of.name}`,
    place: 'shelf' as const,
    action: of === null ? labelSheetsPath() : labelSheetPath(of.id),
    button: of === null ? 'Add it' : 'Save',
    version: String(version),
    alone,
    bare: unit === 'mm' ? 'millimetres' : 'inches',
    drawing,
    says,
    test: of === null ? '' : labelTestPagePath(of.id),
    remove: of === null ? '' : labelSheetRemovalPath(of.id),
    back: labelSheetsPath(),
    form: formModel(
      {
        name: textField(form, { name: 'name', label: 'Name', hint: 'Round ones for lids' }),
        paper: radiosField(form, {
          name: 'paper',
          label: 'Paper',
          options: [
            { value: 'A4', text: 'A4', hint: '210 x 297 mm' },
            { value: 'Letter', text: 'Letter', hint: '8 1/2 x 11 in' },
            { value: 'other', text: 'Another size', hint: 'give its measures' },
          ],
        }),
        paperWidth: length('paper.width', 'Paper’s width', 'For another size only'),
        paperHeight: length('paper.height', 'Paper’s height', 'For another size only'),
        columns: length('columns', 'Labels side by side'),
        rows: length('rows', 'Labels one below the other'),
        shape: radiosField(form, {
          name: 'shape',
          label: 'Shape of a label',
          options: [
            { value: 'rectangle', text: 'rectangle' },
            { value: 'round', text: 'round' },
          ],
        }),
        width: length('label.width', 'Label’s width', 'For a rectangle'),
        height: length('label.height', 'Label’s height', 'For a rectangle'),
        corner: length('label.corner', 'Radius of its rounded corners', 'Empty: sharp corners', true),
        diameter: length('label.diameter', 'Label’s diameter', 'For a round one'),
        top: length('margins.top', 'From the paper’s upper edge to the first label'),
        left: length('margins.left', 'From the paper’s left edge to the first label'),
        across: length('gaps.across', 'Gap between labels side by side', 'Edge to edge; empty: none', true),
        down: length('gaps.down', 'Gap between labels one below the other', 'Edge to edge; empty: none', true),
        shiftRight: length('shift.right', 'Move print to the right by', 'Below 0: to the left', true),
        shiftDown: length('shift.down', 'Move print down by', 'Below 0: up', true),
      },
      form,
    ),
  }
}

/** "0.5 mm to the right, 1 mm up"; '' for none. */
export function shiftWords({ dx, dy }: PrinterOffset, units: UnitSystem): string {
  const by = (length: number) => typedLength(Math.abs(length), units)
  return [
    ...(dx === 0 ? [] : [`${by(dx)} to the ${dx > 0 ? 'right' : 'left'}`]),
    ...(dy === 0 ? [] : [`${by(dy)} ${dy > 0 ? 'down' : 'up'}`]),
  ].join(', ')
}

/** What `sheetTyped` fills in for a known sheet's copy: the measures, and no shift. */
export function copyOf(
  name: string,
): { name: string; geometry: (typeof knownSheets)[number]['geometry']; offset: PrinterOffset } | null {
  const known = knownSheets.find((one) => one.name === name)
  return known === undefined ? null : { ...known, offset: noOffset }
}

function drawingOf(form: TypedForm, alone: UnitSystem): SheetDrawing | { drawing: null; says: string } {
  // a name that is missing does not keep the measures from being drawn
  const read = readSheetForm({ ...form.typed, name: 'any' }, alone)
  return read.ok ? sheetDrawing(read.values.geometry, null) : { drawing: null, says: '' }
}

function labelsOn({ columns, rows }: { columns: number; rows: number }, format: Formatter): string {
  return format.number(columns * rows)
}
