import { type WorkKind, workKinds } from '../../core/produce/vocabulary.ts'
import { forUnits, type Pack, type PackVerdict, type RecipeDefinition, unitsOfALoad } from '../../core/recipes/index.ts'
import type { Formatter } from '../../web/format.ts'
import { supplyAmount } from './making-words.ts'
import { capital, materialName } from './words.ts'

/** What a recipe's figures are called by: supplies with their units and what other recipes make, by key. */
export type Names = { supplies: Map<string, { name: string; unit: string }>; materials: Map<string, string> }

/** "7 quarts"; "3 × 200 g bag", as two numbers in a row read like one. */
export function unitsText(many: number, { unit, units }: Pick<Pack, 'unit' | 'units'>, format: Formatter): string {
  return /^\d/.test(unit) ? `${format.number(many)} × ${unit}` : format.count(many, unit, units)
}

/** One size: what it takes, and how long a load keeps hands and machines busy with the tested time in it. */
export function packPart(
  definition: RecipeDefinition,
  pack: Pack,
  verdict: PackVerdict | undefined,
  names: Names,
  format: Formatter,
) {
  const load = forUnits(definition, pack, unitsOfALoad(pack))
  const supplies = Object.entries(pack.supplies).map(([key, amount]) => {
    const known = names.supplies.get(key)
    const name = known?.name ?? `${materialName(key)} (not among the supplies)`
    const measured = known?.unit === 'g' || known?.unit === 'ml'
    return measured ? `${name} ${supplyAmount(amount, known.unit, format)}` : `${format.number(amount, 2)} × ${name}`
  })
  return {
    heading: capital(pack.unit),
    facts: [
      { name: 'Raw weight for one', says: format.weight(pack.gramsPerUnit) },
      { name: 'Worth of one', says: format.money(pack.worthMinor) },
      ...(supplies.length > 0 ? [{ name: 'Supplies for one', says: supplies.join(', ') }] : []),
      ...(pack.freezerMl > 0 ? [{ name: 'Room in the freezer', says: format.volume(pack.freezerMl) }] : []),
      ...(pack.makes === null ? [] : [{ name: 'One gives', says: makesText(pack.makes, format) }]),
      ...pack.runs.map((run) => ({
        name: capital(run.name),
        says: `holds ${unitsText(run.unitsPerRun, pack, format)}, the last one at least ${format.percent(run.fillAtLeast)} full`,
      })),
    ],
    load: `${unitsText(load.units, pack, format)} ${load.units === 1 ? 'takes' : 'take'} ${format.weight(load.rawGrams)}`,
    minutes: [
      { who: 'Hands', ...minutesOf(load.handMinutes, format) },
      ...Object.entries(load.machineMinutes).map(([kind, minutes]) => ({
        who: capital(kind),
        ...withTested(minutes, kind, pack, load.units, verdict, format),
      })),
    ],
  }
}

/** A machine's minutes for a load, with those of the process where it follows one. */
function withTested(
  minutes: number,
  machine: string,
  pack: Pack,
  units: number,
  verdict: PackVerdict | undefined,
  format: Formatter,
) {
  const heated = pack.runs.filter((run) => run.process && machine in run.machineMinutes)
  if (heated.length === 0) return { total: format.duration(Math.round(minutes)), parts: '' }
  const follows = verdict?.standing === 'tested' || verdict?.standing === 'local'
  const tested = follows ? (verdict.process?.minutes ?? verdict.local?.minutes ?? 0) : 0
  const times = heated.reduce((sum, run) => sum + Math.ceil(units / run.unitsPerRun), 0)
  return {
    total: format.duration(Math.round(minutes + tested * times)),
    parts: follows ? `the process’s ${format.duration(tested * times)} among them` : 'without any process',
  }
}

function minutesOf(minutes: Partial<Record<WorkKind, number>>, format: Formatter) {
  const parts = workKinds.map((kind) => ({ kind, many: minutes[kind] ?? 0 })).filter(({ many }) => many > 0)
  return {
    total: format.duration(Math.round(parts.reduce((sum, { many }) => sum + many, 0))),
    parts: parts.map(({ kind, many }) => `${kind} ${format.duration(Math.max(1, Math.round(many)))}`).join(', '),
  }
}

function makesText(makes: NonNullable<Pack['makes']>, format: Formatter): string {
  const { name, gramsPerUnit, readyAfterDays, keepsDays } = makes
  const ready = readyAfterDays === 0 ? 'at once' : `after ${format.count(readyAfterDays, 'day')}`
  return `${format.weight(gramsPerUnit)} of ${name}, to be used ${ready} and within ${format.count(keepsDays, 'day')}`
}
