import {
  type EquipmentKind,
  equipmentKinds,
  methods,
  type RipenessClass,
  ripenessClasses,
  trimKinds,
  type WorkKind,
  workKinds,
} from '../../core/produce/vocabulary.ts'
import { checkRecipe, type Pack, type PackRun, type RecipeInput } from '../../core/recipes/index.ts'
import { parseMass, parseVolume } from '../../core/units/index.ts'
import { slug } from '../../core/units/slug.ts'
import { type FieldReader, fieldReader } from '../../web/field-reader.ts'
import { checkbox, choice, money, type ReadForm, read, type Typed, wholeNumber } from '../../web/forms.ts'
import { keyText, MOST_CAUTIONS, MOST_GRAMS_PER_UNIT, MOST_WORTH_MINOR } from './document.ts'
import { documentFaults, type FilledRows, fieldOf, tooManyRows } from './fault-fields.ts'
import { jarField, readClaim, readIngredient, readStep } from './forms-making.ts'
import { amountsOf, amountText, neededLine, optionalLine, percentText, rangeText } from './lists.ts'
import type { RecipeValues } from './queries.ts'
import { faultWords } from './words.ts'

/** How many rows the form has at least; a recipe with more gets as many as it has and one. */
export const formRows = { inputs: 4, trim: 2, packs: 3, runs: 2, supplies: 5, ingredients: 4, steps: 3 } as const

/** One more than any recipe has, so that the one too many is refused rather than lost. */
export const MOST_ROWS = 31

/**
 * Reads the recipe form. Rows that are left blank are ignored, wherever they stand; what is wrong with the recipe as a
 * whole (`checkRecipe`) is said at the field it is about.
 */
export function readRecipeForm(typed: Typed): ReadForm<RecipeValues> {
  const reader = fieldReader(typed)
  const packRows = filledRows(reader, 'packs')
  const rows: FilledRows = {
    inputs: filledRows(reader, 'inputs'),
    packs: packRows,
    ingredients: filledRows(reader, 'ingredients'),
    steps: filledRows(reader, 'steps'),
    runs: packRows.map((row) => filledRows(reader, `packs.${row}.runs`)),
    supplies: packRows.map((row) => filledRows(reader, `packs.${row}.supplies`)),
  }
  const values: RecipeValues = {
    name: reader.get('name', neededLine('Enter what it is called', 80), ''),
    method: reader.get('method', choice(methods, 'Choose how it is kept'), 'fresh'),
    definition: {
      inputs: rows.inputs.map((row) => readInput(reader, `inputs.${row}`)),
      packs: rows.packs.map((row) => readPack(reader, `packs.${row}`)),
      ingredients: rows.ingredients.map((row) => readIngredient(reader, `ingredients.${row}`)),
      process: readClaim(reader),
      steps: rows.steps.map((row) => readStep(reader, `steps.${row}`)),
      workPerKg: reader.get('workPerKg', amountsOf<WorkKind>(workKinds, 'wash 1, cut 5'), {}),
      cautions: reader.get('cautions', read(readCautions, 4000), []),
      source: reader.get('source', neededLine('Say where the figures come from, if only “our own”', 400), ''),
    },
  }
  const { errors } = reader
  for (const [field, words] of Object.entries(tooManyRows(rows))) errors[field] ??= words
  if (Object.keys(errors).length === 0) {
    const faults = [
      ...Object.entries(faultWords(checkRecipe(values.definition, values.method))),
      ...Object.entries(documentFaults(values.definition)),
    ]
    for (const [at, words] of faults) errors[fieldOf(at, rows)] ??= words
  }
  return Object.keys(errors).length === 0 ? { ok: true, typed, errors, values } : { ok: false, typed, errors }
}

function readInput(reader: FieldReader, at: string): RecipeInput {
  const from = reader.get(`${at}.from`, read(readSource), { crop: '' })
  const trimRows = filledRows(reader, `${at}.trim`)
  return {
    from,
    suits: reader.get(`${at}.suits`, amountsOf<RipenessClass>(ripenessClasses, 'firm 80, ripe 100', 100), {}),
    share: reader.get(`${at}.share`, rangeText('Enter a share like “100” or “50 to 80”'), { min: 1, max: 1 }),
    trim: trimRows.map((row) => {
      const here = `${at}.trim.${row}`
      const byClass = amountsOf<RipenessClass>(ripenessClasses, 'damaged 38', 100)
      const shareByClass = reader.get(`${here}.byClass`, byClass, {})
      return {
        kind: reader.get(`${here}.kind`, choice(trimKinds, 'Choose what kind of trim it is'), 'pomace'),
        share: reader.get(`${here}.share`, percentText('Enter how much leaves, like 12'), 0),
        ...(Object.keys(shareByClass).length > 0 ? { shareByClass } : {}),
      }
    }),
  }
}

/** "crop:apple" or "material:apple-juice", as the form's choices have it. */
function readSource(typed: string): { value: RecipeInput['from'] } | { problem: string } {
  const [kind, key = ''] = typed.split(':')
  if (!keyText.safeParse(key).success) return { problem: 'Choose what goes in' }
  if (kind === 'crop') return { value: { crop: key } }
  return kind === 'material' ? { value: { material: key } } : { problem: 'Choose what goes in' }
}

function readPack(reader: FieldReader, at: string): Pack {
  const unit = reader.get(`${at}.unit`, neededLine('Enter what one is called, like “quart”', 40), '')
  const units = reader.get(`${at}.units`, optionalLine(40), null)
  const key = reader.get(`${at}.key`, read(readKey), '')
  const supplyRows = filledRows(reader, `${at}.supplies`)
  const supplies: Record<string, number> = {}
  for (const row of supplyRows) {
    const here = `${at}.supplies.${row}`
    const supply = reader.get(`${here}.key`, read(readSupply), '')
    if (supplies[supply] !== undefined) reader.errors[`${here}.key`] ??= 'Name each supply once'
    supplies[supply] = reader.get(`${here}.amount`, amountText('Enter an amount for one, like 1 or 110'), 0)
  }
  return {
    key: key || slug(unit),
    unit,
    units: units ?? `${unit}s`,
    jar: reader.get(`${at}.jar`, jarField, null),
    gramsPerUnit: reader.get(`${at}.gramsPerUnit`, read(readGrams), 1),
    worthMinor: reader.get(`${at}.worthMinor`, money('Enter what one is worth, like 4.50', MOST_WORTH_MINOR), 0),
    runs: filledRows(reader, `${at}.runs`).map((row) => readRun(reader, `${at}.runs.${row}`)),
    workPerUnit: reader.get(`${at}.workPerUnit`, amountsOf<WorkKind>(workKinds, 'fill 2, pack 0.5'), {}),
    machineMinutesPerUnit: reader.get(
      `${at}.machineMinutesPerUnit`,
      amountsOf<EquipmentKind>(equipmentKinds, 'press 5'),
      {},
    ),
    supplies,
    freezerMl: reader.get(`${at}.freezerMl`, read(readMl), 0),
    makes: readMakes(reader, `${at}.makes`),
  }
}

function readRun(reader: FieldReader, at: string): PackRun {
  return {
    name: reader.get(`${at}.name`, neededLine('Enter what it is, like “canner load”', 60), ''),
    unitsPerRun: reader.get(`${at}.unitsPerRun`, wholeNumber('Enter how many make a full load, from 1', 1, 1000), 1),
    fillAtLeast: reader.get(`${at}.fillAtLeast`, percentText('Enter how full it must be, from 0 to 100', 0), 0),
    machineMinutes: reader.get(
      `${at}.machineMinutes`,
      amountsOf<EquipmentKind>(equipmentKinds, 'canner 60, burner 60'),
      {},
    ),
    work: reader.get(`${at}.work`, amountsOf<WorkKind>(workKinds, 'stove 8'), {}),
    process: reader.get(`${at}.process`, checkbox(), false),
  }
}

function readMakes(reader: FieldReader, at: string): Pack['makes'] {
  if (reader.isBlank(`${at}.`)) return null
  const name = reader.get(`${at}.name`, neededLine('Enter what it makes, like “apple juice”', 60), '')
  return {
    material: slug(name),
    name,
    gramsPerUnit: reader.get(`${at}.gramsPerUnit`, read(readGrams), 1),
    readyAfterDays: reader.get(`${at}.readyAfterDays`, wholeNumber('Enter days, from 0', 0, 365), 0),
    keepsDays: reader.get(`${at}.keepsDays`, wholeNumber('Enter days, from 0', 0, 365), 0),
  }
}

function readGrams(typed: string): { value: number } | { problem: string } {
  const mass = parseMass(typed)
  return mass.ok && mass.grams <= MOST_GRAMS_PER_UNIT
    ? { value: mass.grams }
    : { problem: 'Enter a weight for one, like “1.25 kg” or “2 3/4 lb”' }
}

function readMl(typed: string): { value: number } | { problem: string } {
  if (typed === '') return { value: 0 }
  const volume = parseVolume(typed)
  return volume.ok && volume.ml <= 1_000_000
    ? { value: Math.round(volume.ml) }
    : { problem: 'Enter the room of one in the freezer, like “1.9 l”, or nothing' }
}

function readKey(typed: string): { value: string } | { problem: string } {
  if (typed === '' || keyText.safeParse(typed).success) return { value: typed }
  return { problem: 'Use small letters, digits and hyphens, like “half-pint”, or leave it empty' }
}

function readSupply(typed: string): { value: string } | { problem: string } {
  return keyText.safeParse(typed).success ? { value: typed } : { problem: 'Choose a supply' }
}

/** Numbers of the rows of which something is filled in. */
function filledRows(reader: FieldReader, name: string): number[] {
  return Array.from({ length: MOST_ROWS }, (_, row) => row).filter((row) => !reader.isBlank(`${name}.${row}.`))
}

/** One on each line. */
function readCautions(typed: string): { value: string[] } | { problem: string } {
  const lines = typed
    .split('\n')
    .map((line) => line.replace(/\s+/g, ' ').trim())
    .filter(Boolean)
  if (lines.length > MOST_CAUTIONS) return { problem: `Write ${MOST_CAUTIONS} cautions at most, one on each line` }
  if (lines.some((line) => line.length > 400)) return { problem: 'Keep each caution to 400 characters' }
  return { value: lines }
}
