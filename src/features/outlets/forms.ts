import { z } from 'zod'
import { crop, findCrop } from '../../core/produce/index.ts'
import { outletKinds, ripenessClasses } from '../../core/produce/vocabulary.ts'
import { parseMass } from '../../core/units/index.ts'
import { checkbox, choice, many, money, neededText, read, type Typed } from '../../web/forms.ts'
import { typedMass, typedMoney } from '../../web/typed.ts'
import type { KeptOutlet, OutletValues } from './queries.ts'

export const MOST_CAPACITY_GRAMS = 50_000_000
export const MOST_WORTH_MINOR = 1_000_000

/** The form, for a co-op whose trim and intermediate products have these keys. */
export function outletForm(materials: readonly string[]) {
  return z.object({
    kind: choice(outletKinds, 'Choose what kind it is'),
    name: neededText('Enter a name, like “compost behind the hall”', 80),
    capacityGrams: read<number | null>((typed) => {
      if (typed === '') return { value: null }
      const mass = parseMass(typed)
      return mass.ok && mass.grams <= MOST_CAPACITY_GRAMS
        ? { value: mass.grams }
        : { problem: 'Enter a weight, like “20 kg”, or leave it empty for any amount' }
    }),
    worthPerKgMinor: money('Enter what a kilogram there is worth, like 0.25; 0 for nothing', MOST_WORTH_MINOR),
    takesProduce: checkbox(),
    crops: read(readCrops, 1000),
    classes: many(ripenessClasses, 'Choose classes from the list'),
    materials: many(materials, 'Choose trim and juices from the list'),
    open: checkbox(),
  })
}

/** What is wrong between the fields, in words by field. */
export function outletProblems({ takesProduce, classes, materials }: OutletValues): Record<string, string> {
  if (takesProduce && classes.length === 0) return { classes: 'Choose at least one class of the produce that it takes' }
  if (!takesProduce && materials.length === 0) {
    return { takesProduce: 'Say what it takes: whole produce, or some trim below' }
  }
  return {}
}

/** The form's fields as they would be typed for this outlet. */
export function outletTyped(outlet: KeptOutlet): Typed {
  const { kind, name, capacityGrams, worthPerKgMinor, takesProduce, crops, classes, materials, open, version } = outlet
  return {
    kind,
    name,
    capacityGrams: capacityGrams === null ? '' : typedMass(capacityGrams),
    worthPerKgMinor: typedMoney(worthPerKgMinor),
    ...(takesProduce ? { takesProduce: 'yes' } : {}),
    crops: crops.map((key) => crop(key)?.plural ?? key).join(', '),
    classes,
    materials,
    ...(open ? { open: 'yes' } : {}),
    version: String(version),
  }
}

/** "apples, damsons" as keys, each once; nothing is any crop. */
function readCrops(typed: string): { value: string[] } | { problem: string } {
  const names = typed
    .split(/[,;\n]/)
    .map((name) => name.trim())
    .filter(Boolean)
  const unknown = names.find((name) => findCrop(name) === undefined)
  if (unknown !== undefined) {
    return {
      problem: `No crop here is called “${unknown.slice(0, 40)}”: write crops with commas between, or nothing for any`,
    }
  }
  return { value: [...new Set(names.flatMap((name) => findCrop(name)?.key ?? []))] }
}
