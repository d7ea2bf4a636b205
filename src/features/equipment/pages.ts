import { type EquipmentKind, equipmentKinds } from '../../core/produce/vocabulary.ts'
import type { CoopWays } from '../../web/asking.ts'
import { checkboxField, formModel, numberField, radiosField, textField } from '../../web/fields.ts'
import { formatFor } from '../../web/format.ts'
import type { TypedForm } from '../../web/forms.ts'
import { equipmentListPath, equipmentPath, equipmentRemovalPath, newEquipmentPath } from './paths.ts'
import type { Equipment } from './queries.ts'

export function equipmentPage(equipment: Equipment[], coop: CoopWays) {
  const format = formatFor(coop)
  return {
    title: 'Equipment',
    place: 'coop' as const,
    sentence: equipmentSentence(equipment, coop),
    add: newEquipmentPath(),
    rows: equipment.map(({ id, name, kind, count, roomMl, aroundTheClock, outOn }) => ({
      name,
      href: equipmentPath(id),
      kind: kindWords[kind].one,
      count: format.number(count),
      room: roomMl === null ? '' : format.volume(roomMl),
      hours: kind === 'freezer' ? 'always' : aroundTheClock ? 'around the clock' : 'while the kitchen is open',
      out: outOn.length === 0 ? '' : format.count(outOn.length, 'day'),
    })),
  }
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
export function equipmentFormPage(form: TypedForm, of: Equipment | null, version: number) {
  return {
    title: of === null ? 'Add equipment' : `Change ${of.name}`,
    place: 'coop' as const,
    action: of === null ? equipmentListPath() : equipmentPath(of.id),
    button: of === null ? 'Add it' : 'Save',
    version: String(version),
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
