import { type Gauge, jarSizes } from '../../core/process/index.ts'
import { type EquipmentKind, equipmentKinds } from '../../core/produce/vocabulary.ts'
import type { UnitSystem } from '../../core/units/index.ts'
import type { CoopWays } from '../../web/asking.ts'
import { checkboxField, formModel, numberField, radiosField, textField } from '../../web/fields.ts'
import { type Formatter, formatFor } from '../../web/format.ts'
import type { TypedForm } from '../../web/forms.ts'
import { aloneIn } from '../../web/lengths.ts'
import { jarWords } from '../processes/index.ts'
import { fitPage } from './fit-page.ts'
import { equipmentListPath, equipmentPath, equipmentRemovalPath, newEquipmentPath } from './paths.ts'
import type { Equipment } from './queries.ts'

export function equipmentPage(equipment: Equipment[], coop: CoopWays) {
  const format = formatFor(coop)
  return {
    title: 'Equipment',
    place: 'coop' as const,
    sentence: equipmentSentence(equipment, coop),
    add: newEquipmentPath(),
    gaugeNote: equipment.some(needsGaugeCheck) ? gaugeNote : '',
    rows: equipment.map(({ id, name, kind, count, roomMl, aroundTheClock, outOn, ...canner }) => ({
      name,
      href: equipmentPath(id),
      kind: kind === 'pressure-canner' ? `${kindWords[kind].one}, ${gaugeText(canner.gauge)}` : kindWords[kind].one,
      inside: insideText(canner, coop.units, format),
      count: format.number(count),
      ways: waysText(canner, format),
      room: roomMl === null ? '' : format.volume(roomMl),
      hours:
        canner.fromMinute !== null && canner.toMinute !== null
          ? `${format.minuteOfDay(canner.fromMinute)} to ${format.minuteOfDay(canner.toMinute)}`
          : kind === 'freezer'
            ? 'always'
            : aroundTheClock
              ? 'around the clock'
              : 'while the kitchen is open',
      out: outOn.length === 0 ? '' : format.count(outOn.length, 'day'),
    })),
  }
}

/** "takes 7 quart jars; 20 minutes to come up"; '' where nothing was said. */
function waysText(
  {
    holds,
    comeUpMinutes,
    coolDownMinutes,
    burners,
  }: Pick<Equipment, 'holds' | 'comeUpMinutes' | 'coolDownMinutes' | 'burners'>,
  format: Formatter,
): string {
  const jars = jarSizes.flatMap((size) => {
    const many = holds[size]
    return many === undefined ? [] : [`${format.number(many)} ${many === 1 ? jarWords[size].one : jarWords[size].more}`]
  })
  return [
    jars.length === 0 ? '' : `takes ${jars.join(' or ')}`,
    comeUpMinutes === null ? '' : `${format.count(comeUpMinutes, 'minute')} to come up`,
    coolDownMinutes === null ? '' : `${format.count(coolDownMinutes, 'minute')} to cool down`,
    burners === null ? '' : `covers ${format.count(burners, 'burner')}`,
  ]
    .filter((part) => part !== '')
    .join('; ')
}

/** "2 canners, 4 burners, 1 freezer with 45 l" */
export function equipmentSentence(equipment: Equipment[], coop: CoopWays): string {
  const format = formatFor(coop)
  const parts = equipmentKinds.flatMap((kind) => {
    const ofKind = equipment.filter((one) => one.kind === kind)
    const many = ofKind.reduce((sum, one) => sum + one.count, 0)
    if (many === 0) return []
    const ml = ofKind.reduce((sum, one) => sum + one.count * (one.roomMl ?? 0), 0)
    return [
      `${format.count(many, kindWords[kind].one, kindWords[kind].more)}${ml > 0 ? ` with ${format.volume(ml)}` : ''}`,
    ]
  })
  return parts.join(', ')
}

/** The form for new equipment (`of` null) and for a change; `version` is what a save then counts as having read. */
export function equipmentFormPage(form: TypedForm, of: Equipment | null, version: number, coop: CoopWays) {
  const alone = aloneIn(form.typed, coop.units)
  const jarFields = jarSizes.map((size) =>
    numberField(form, {
      name: `holds.${size}`,
      label: `One load takes: ${jarWords[size].more}`,
      hint: 'For a canner only; empty: as many as recipes say',
      optional: true,
    }),
  )
  const inUnit = alone === 'us' ? 'inches' : 'centimetres'
  return {
    title: of === null ? 'Add equipment' : `Change ${of.name}`,
    place: 'coop' as const,
    action: of === null ? equipmentListPath() : equipmentPath(of.id),
    button: of === null ? 'Add it' : 'Save',
    version: String(version),
    alone,
    jarFields,
    gaugeNote: of !== null && needsGaugeCheck(of) ? gaugeNote : '',
    fit: of === null ? null : fitPage(of, coop),
    remove: of === null ? '' : equipmentRemovalPath(of.id),
    back: equipmentListPath(),
    form: formModel(
      {
        kind: radiosField(form, {
          name: 'kind',
          label: 'Kind',
          options: equipmentKinds.map((value) => ({ value, text: kindWords[value].one })),
        }),
        name: textField(form, {
          name: 'name',
          label: 'Name',
          hint: 'As you would call it: boiling-water canner, 7 quarts',
        }),
        count: numberField(form, { name: 'count', label: 'How many of these' }),
        gauge: radiosField(form, {
          name: 'gauge',
          label: 'Gauge',
          hint: 'Of a pressure canner: it decides the pressure that is to be kept',
          options: [
            { value: 'dial', text: gaugeWords.dial, hint: 'a needle on a scale' },
            { value: 'weighted', text: gaugeWords.weighted, hint: 'a weight that jiggles or rocks' },
            { value: 'none', text: 'none', hint: 'it is no pressure canner' },
          ],
        }),
        insideWidthMm: numberField(form, {
          name: 'insideWidthMm',
          label: 'Inside width',
          hint: `Of a canner, where the jars stand; a number alone is in ${inUnit}`,
          optional: true,
        }),
        insideHeightMm: numberField(form, {
          name: 'insideHeightMm',
          label: 'Inside height',
          hint: `Of a canner, from the bottom to under the lid (steam canner: from the plate); a number alone is in ${inUnit}`,
          optional: true,
        }),
        ...Object.fromEntries(jarFields.map((field) => [field.name, field])),
        comeUpMinutes: numberField(form, {
          name: 'comeUpMinutes',
          label: 'Minutes to come up',
          hint: 'Of a canner, full, until it boils, steams or is at pressure, venting included. The canner’s own manual goes before; never less than the published least is planned',
          optional: true,
        }),
        coolDownMinutes: numberField(form, {
          name: 'coolDownMinutes',
          label: 'Minutes to cool down',
          hint: 'Of a canner, from the end of the process until jars may be lifted out. The canner’s own manual goes before; never less than the published least is planned',
          optional: true,
        }),
        burners: numberField(form, {
          name: 'burners',
          label: 'Burners they cover together',
          hint: 'Of canners on the stove; empty: one each',
          optional: true,
        }),
        fromMinute: textField(form, {
          name: 'fromMinute',
          label: 'Can be used from',
          hint: 'On each day, like 9:30 or 9 am; empty: as the kitchen is open',
          optional: true,
        }),
        toMinute: textField(form, { name: 'toMinute', label: 'Can be used until', optional: true }),
        roomMl: numberField(form, {
          name: 'roomMl',
          label: 'Free room of one',
          hint: 'For a freezer only: litres that can still be filled',
          optional: true,
        }),
        aroundTheClock: checkboxField(form, {
          name: 'aroundTheClock',
          label: 'Runs on when the kitchen is closed',
          hint: 'A dehydrator may; a canner or a pot may not',
        }),
      },
      form,
    ),
  }
}

const kindWords: Record<EquipmentKind, { one: string; more: string }> = {
  canner: { one: 'boiling-water canner', more: 'boiling-water canners' },
  'pressure-canner': { one: 'pressure canner', more: 'pressure canners' },
  'steam-canner': { one: 'steam canner', more: 'steam canners' },
  burner: { one: 'burner', more: 'burners' },
  oven: { one: 'oven', more: 'ovens' },
  dehydrator: { one: 'dehydrator', more: 'dehydrators' },
  press: { one: 'press', more: 'presses' },
  freezer: { one: 'freezer', more: 'freezers' },
}

const gaugeWords: Record<Gauge, string> = { dial: 'dial gauge', weighted: 'weighted gauge' }

/** Guide 1 p. 1-20: seen. */
const gaugeNote =
  'A dial gauge is checked every year before it is used, and replaced when it is off by more than 2 psi (USDA Complete Guide to Home Canning, 2015, Guide 1 page 1-20). Your local extension service can say who checks it.'

const needsGaugeCheck = ({ kind, gauge }: Equipment): boolean => kind === 'pressure-canner' && gauge !== 'weighted'

function gaugeText(gauge: Gauge | null): string {
  return gauge === null ? 'gauge not noted' : gaugeWords[gauge]
}

/** "30.5 cm wide, 25 cm high"; '' where neither is known. */
function insideText(
  { insideWidthMm, insideHeightMm }: Pick<Equipment, 'insideWidthMm' | 'insideHeightMm'>,
  units: UnitSystem,
  format: Formatter,
): string {
  const text = (mm: number) =>
    units === 'us' ? `${format.number(mm / 25.4, 1)} in` : `${format.number(mm / 10, 1)} cm`
  const parts = [
    insideWidthMm === null ? '' : `${text(insideWidthMm)} wide`,
    insideHeightMm === null ? '' : `${text(insideHeightMm)} high`,
  ]
  return parts.filter((part) => part !== '').join(', ')
}
