import { crop } from '../../core/produce/index.ts'
import {
  type OutletKind,
  outletKinds,
  ripenessClasses,
  type TrimKind,
  trimKinds,
} from '../../core/produce/vocabulary.ts'
import type { CoopWays } from '../../web/asking.ts'
import { checkboxesField, checkboxField, formModel, numberField, radiosField, textField } from '../../web/fields.ts'
import { formatFor } from '../../web/format.ts'
import type { TypedForm } from '../../web/forms.ts'
import { newOutletPath, outletPath, outletRankPath, outletRemovalPath, outletsPath } from './paths.ts'
import type { KeptOutlet } from './queries.ts'

/** Trim and what recipes make, as this co-op calls it. */
export type Material = { key: string; name: string }

/** Every kind of trim, then what the co-op's recipes make, then what `of` takes already and nobody makes any more. */
export function materialsFor(made: readonly Material[], of: KeptOutlet | null): Material[] {
  const known = [...trimKinds.map((key) => ({ key, name: trimWords[key] })), ...made]
  const others = (of?.materials ?? []).filter((key) => !known.some((material) => material.key === key))
  return [...known, ...others.map((key) => ({ key, name: key.replaceAll('-', ' ') }))]
}

export function outletsPage(outlets: KeptOutlet[], materials: readonly Material[], coop: CoopWays) {
  const format = formatFor(coop)
  return {
    title: 'Outlets',
    place: 'coop' as const,
    sentence: outletsSentence(outlets),
    add: newOutletPath(),
    outlets: outlets.map((outlet, number) => ({
      name: outlet.name,
      href: outletPath(outlet.id),
      kind: outlet.kind,
      closed: !outlet.open,
      takes: takesText(outlet, materials),
      room: outlet.capacityGrams === null ? 'any amount' : `up to ${format.weight(outlet.capacityGrams)} for a plan`,
      worth: outlet.worthPerKgMinor === 0 ? '' : `${format.money(outlet.worthPerKgMinor)} a kilogram`,
      rank: outletRankPath(outlet.id),
      up: number > 0 ? String(number) : '',
      down: number < outlets.length - 1 ? String(number + 2) : '',
    })),
  }
}

/** "First the cider press, then the vinegar barrel, at last the compost": open ones in their order. */
export function outletsSentence(outlets: readonly KeptOutlet[]): string {
  const open = outlets.filter((outlet) => outlet.open).map((outlet) => outlet.name)
  if (open.length === 0) return outlets.length === 0 ? '' : 'All outlets are closed'
  const [first, ...rest] = open
  if (rest.length === 0) return `Everything goes to ${first}`
  return `First ${[first, ...rest.slice(0, -1)].join(', then ')}, at last ${rest.at(-1)}`
}

/** The form for a new outlet (`of` null) and for a change. */
export function outletFormPage(
  form: TypedForm,
  of: KeptOutlet | null,
  version: number,
  materials: readonly Material[],
) {
  return {
    title: of === null ? 'Add an outlet' : `Change ${of.name}`,
    place: 'coop' as const,
    action: of === null ? outletsPath() : outletPath(of.id),
    button: of === null ? 'Add it' : 'Save',
    version: String(version),
    remove: of === null ? '' : outletRemovalPath(of.id),
    back: outletsPath(),
    form: formModel(
      {
        kind: radiosField(form, {
          name: 'kind',
          label: 'Kind',
          options: outletKinds.map((value) => ({ value, text: value, hint: kindHints[value] })),
        }),
        name: textField(form, { name: 'name', label: 'Name', hint: 'Vinegar barrel in the shed' }),
        capacityGrams: numberField(form, {
          name: 'capacityGrams',
          label: 'How much it takes for one plan',
          hint: 'A weight, like “20 kg”; empty: any amount',
          optional: true,
        }),
        worthPerKgMinor: numberField(form, {
          name: 'worthPerKgMinor',
          label: 'Worth of a kilogram there',
          hint: 'What it saves or brings, like 0.25; 0 for nothing',
        }),
        takesProduce: checkboxField(form, { name: 'takesProduce', label: 'Takes whole produce' }),
        crops: textField(form, {
          name: 'crops',
          label: 'Of which crops',
          hint: 'With commas between: apples, damsons. Empty: any',
          optional: true,
        }),
        classes: checkboxesField(form, {
          name: 'classes',
          label: 'Of which classes',
          options: ripenessClasses.map((value) => ({ value, text: value })),
          optional: true,
        }),
        materials: checkboxesField(form, {
          name: 'materials',
          label: 'Trim and juices it takes',
          options: materials.map(({ key, name }) => ({ value: key, text: name })),
          optional: true,
        }),
        open: checkboxField(form, { name: 'open', label: 'Open', hint: 'A closed outlet takes nothing in any plan' }),
      },
      form,
    ),
  }
}

function takesText({ takesProduce, crops, classes, materials }: KeptOutlet, known: readonly Material[]): string {
  const names = crops.map((key) => crop(key)?.plural ?? key)
  const produce = takesProduce ? [`${names.length === 0 ? 'any crop' : names.join(', ')} (${classes.join(', ')})`] : []
  const nameOf = (key: string) =>
    materialsFor(known, null).find((one) => one.key === key)?.name ?? key.replaceAll('-', ' ')
  return [...produce, ...materials.map(nameOf)].join('; ')
}

const kindHints: Record<OutletKind, string> = {
  juice: 'pressed and drunk',
  vinegar: 'left to sour',
  feed: 'eaten by animals',
  compost: 'back to the soil',
}

const trimWords: Record<TrimKind, string> = {
  'peels-cores': 'peels and cores',
  pomace: 'pomace',
  'stones-stems': 'stones and stems',
}
