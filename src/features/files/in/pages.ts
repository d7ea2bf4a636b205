import type { CoopWays } from '../../../web/asking.ts'
import { formModel, textareaField } from '../../../web/fields.ts'
import { formatFor } from '../../../web/format.ts'
import type { TypedForm } from '../../../web/forms.ts'
import { lotsPath } from '../../lots/paths.ts'
import { ledgerPath, placesPath, shelfPath } from '../../shelf/paths.ts'
import type { TableIn } from '../columns.ts'
import { csvImportPath, csvPath, filesPath } from '../paths.ts'
import type { Looked } from './bring.ts'
import { MOST_CHARACTERS, MOST_LINES } from './lines.ts'

/** What can be pasted, by table: its first line and an example. */
const examples: Record<TableIn, string> = {
  stock:
    'product,pack,made on,best by,place,household,units\nPlum jam,half-pint,2025-09-14,2026-09-14,pantry,,24\n\ncode,place,household,units\n7KQ4M,pantry,,17',
  ledger: 'code,place,owner,household,units,note\n7KQ4M,pantry,,Pike,2,from the list beside the shelf',
  lots: 'came in on,crop,variety,weight,ripeness,storage,source,brought by,household,price,note\n2026-09-11,damson,,18 kg,ripe,cool,gleaned,Mara Pike,Pike,,',
}

const texts: Record<
  TableIn,
  { title: string; hint: string; cautions: string[]; back: { href: string; text: string } }
> = {
  stock: {
    title: 'Bring stock in',
    hint: 'A line with a batch’s code is a stock-take: so many of it stand in that place. A line without one is stock from before: a product by the name of its recipe, which becomes a batch of its own.',
    cautions: [
      'Nothing here can tell how jars from before were processed. Bring in as shelf stock only what followed a tested process and has sealed; ask the local extension service or food authority about the rest, and do not taste it to find out.',
    ],
    back: { href: placesPath(), text: 'Places, by their names' },
  },
  ledger: {
    title: 'Bring in what was taken',
    hint: 'Each line is a take: so many units of the batch with that code, from that place, by that household. The owner is left empty for what is shared. A line whose entry is here already is passed over.',
    cautions: [],
    back: { href: ledgerPath(), text: 'The ledger' },
  },
  lots: {
    title: 'Bring lots in',
    hint: 'Each line takes in one lot. What it leaves out is taken as ripe, at room temperature and donated; without a date it came in today. A line whose lot is here already is passed over.',
    cautions: [],
    back: { href: lotsPath(), text: 'Produce' },
  },
}

/** The page to paste a table into, and, once one was looked at, what each line would do. */
export function importPage(table: TableIn, form: TypedForm, looked: Looked | null, coop: CoopWays) {
  const format = formatFor(coop)
  const { title, hint, cautions, back } = texts[table]
  return {
    title,
    place: 'shelf' as const,
    action: csvImportPath(table),
    cautions,
    limits: `Up to ${format.number(MOST_LINES)} lines at once, and ${format.number(MOST_CHARACTERS)} characters: bring a longer table in in parts, each with its first line.`,
    example: examples[table],
    own: csvPath(table),
    form: formModel(
      { table: textareaField(form, { name: 'table', label: 'The table, as CSV', hint, rows: 12 }) },
      form,
    ),
    looked: looked === null ? null : lookedPart(looked, coop),
    links: [back, { href: filesPath(), text: 'All tables' }, { href: shelfPath(), text: 'The shelf' }],
  }
}

function lookedPart({ steps, ignored, faults, changes, before, seen }: Looked, coop: CoopWays) {
  const format = formatFor(coop)
  const may = faults === 0 && changes > 0 && before === null
  return {
    seen,
    sentence: lookedSentence({ faults, changes, before: before !== null }, steps.length, format.count),
    before:
      before === null
        ? ''
        : `This table was brought in before, by ${before.who}, ${format.instant(before.at)}. It counts once: change what is to be counted again.`,
    ignored: ignored.length === 0 ? '' : `Not read, as no such column is known here: ${ignored.join(', ')}.`,
    rows: steps.map(({ line, kind, says }) => ({
      line: String(line),
      says,
      fault: kind === 'fault',
      none: kind === 'none',
    })),
    button: may ? `Bring in ${format.count(changes, 'line')}` : '',
  }
}

function lookedSentence(
  { faults, changes, before }: { faults: number; changes: number; before: boolean },
  lines: number,
  count: (many: number, one: string) => string,
): string {
  if (faults > 0)
    return `${count(faults, 'line')} of ${lines} cannot be brought in. Nothing was written: mend them below, and look again.`
  if (before) return 'Nothing was written.'
  if (changes === 0) return 'All that it says is so already. Nothing was written.'
  return `Nothing was written yet. ${count(changes, 'line')} of ${lines} would change something.`
}
