import type { CoopWays } from '../../../web/asking.ts'
import { formModel, numberField } from '../../../web/fields.ts'
import { formatFor } from '../../../web/format.ts'
import type { TypedForm } from '../../../web/forms.ts'
import type { JarLine } from '../jars/queries.ts'
import { jarBatchPath, placesPath, stockTakePath } from '../paths.ts'
import type { Place } from '../places/queries.ts'
import { ROWS_PER_PAGE } from '../stock/filter.ts'

/** A stock-take of one place: every line with what should be there. */
export function stockTakePage(
  form: TypedForm,
  { place, lines, count, page }: { place: Place; lines: JarLine[]; count: number; page: number },
  coop: CoopWays,
) {
  const format = formatFor(coop)
  const rows = lines.map((line) => ({
    href: jarBatchPath(line.id),
    product: line.product,
    code: line.code,
    whose: line.household?.name ?? 'shared',
    unit: line.unitsName,
    should: format.number(line.stock),
    shownName: `shown.${line.id}`,
    shown: String(line.stock),
    field: numberField(form, { name: `counted.${line.id}`, label: `${line.product} ${line.code}: how many are there` }),
  }))
  const here = stockTakePath(place.id)
  return {
    title: `Stock-take: ${place.name}`,
    place: 'shelf' as const,
    action: page === 1 ? here : `${here}?page=${page}`,
    rows,
    before: page > 1 ? `${here}?page=${page - 1}` : '',
    after: page * ROWS_PER_PAGE < count ? `${here}?page=${page + 1}` : '',
    back: placesPath(),
    form: formModel(Object.fromEntries(rows.map(({ field }) => [field.name, field])), form),
  }
}
