import type { CoopWays } from '../../web/asking.ts'
import { checkboxField, formModel, numberField, radiosField, textareaField } from '../../web/fields.ts'
import { formatFor } from '../../web/format.ts'
import type { TypedForm } from '../../web/forms.ts'
import { lotBeam } from './beams.ts'
import type { Lot, SortingPart } from './lot.ts'
import { lotName, partWords, wayWords } from './names.ts'
import { lotPath, lotSortingsPath } from './paths.ts'
import { thereGrams } from './sorting.ts'
import { standingOn } from './standing.ts'

/** The form in which a lot is divided by weight or by share, beside what the forecast expects to be there. */
export function sortingPage(form: TypedForm, more: { coop: CoopWays; lot: Lot; version: number; today: string }) {
  const { coop, lot, version, today } = more
  const format = formatFor(coop)
  const standing = standingOn(lot, today)
  const { sorting } = lot
  return {
    title: `Sort ${lotName(lot)}`,
    place: 'produce' as const,
    action: lotSortingsPath(lot.id),
    version: String(version),
    back: lotPath(lot.id),
    there: `${format.weight(thereGrams(standing))} should be there to sort, beside what was set aside and thrown out before.`,
    last: `In force: ${wayWords[sorting.how]}, ${format.day(sorting.sortedOn)}, by ${sorting.sortedBy}.`,
    beam: lotBeam('expected', 'What the forecast expects today', standing, format),
    form: formModel(
      {
        how: radiosField(form, {
          name: 'how',
          label: 'Divide it',
          options: [
            { value: 'weights', text: 'by weight', hint: 'any unit: 4 kg, 3 lb 4 oz, 1/2 bushel, 36 medium' },
            { value: 'shares', text: 'by share', hint: 'percent of what is there, 100 % together' },
          ],
        }),
        ...partFields(form),
        sure: checkboxField(form, {
          name: 'sure',
          label: 'Yes, that is what the scale says',
          hint: 'Needed when the weights are more than 15 % off what should be there',
        }),
        note: textareaField(form, { name: 'note', label: 'Note', optional: true, rows: 2 }),
      },
      form,
    ),
  }
}

function partFields(form: TypedForm) {
  return {
    firm: partField(form, 'firm'),
    ripe: partField(form, 'ripe'),
    soft: partField(form, 'soft'),
    damaged: partField(form, 'damaged'),
    setAside: partField(form, 'setAside'),
    lost: partField(form, 'lost'),
  }
}

function partField(form: TypedForm, part: SortingPart) {
  return { ...numberField(form, { name: part, label: partWords[part] }), inputmode: 'text' }
}
