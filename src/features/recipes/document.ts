import { z } from 'zod'
import { jarSizes, packStyles } from '../../core/process/index.ts'
import { equipmentKinds, ripenessClasses, stations, trimKinds, workKinds } from '../../core/produce/vocabulary.ts'
import { ingredientKinds, type RecipeDefinition } from '../../core/recipes/index.ts'
import { callText } from '../../web/answers.ts'

/** A key of a crop, material, pack or supply: "apple-juice". */
export const keyText = z.string().regex(/^[a-z0-9][a-z0-9-]{0,39}$/)

export const MOST_INPUTS = 8
export const MOST_PACKS = 6
export const MOST_RUNS = 4
export const MOST_SUPPLIES = 20
export const MOST_INGREDIENTS = 30
export const MOST_STEPS = 30
export const MOST_CAUTIONS = 10
/** 100 kg in one jar is no jar; the bounds keep slips of the hand out of the sums. */
export const MOST_GRAMS_PER_UNIT = 100_000
export const MOST_WORTH_MINOR = 10_000_000

const minutes = z.number().min(0).max(10_080)
const workMinutes = z.partialRecord(z.enum(workKinds), minutes)
const machineMinutes = z.partialRecord(z.enum(equipmentKinds), minutes)
const share = z.number().min(0).max(1)
const shareByClass = z.partialRecord(z.enum(ripenessClasses), share)

/**
 * The document in which a recipe is stored and sent. It fixes the shape; what the figures must come to together is
 * `checkRecipe`'s.
 */
export const recipeDocument = documentOf(callText)

/** The same as it is answered: texts are told as they are stored. */
export const recipeDocumentTold = documentOf((most) => z.string().max(most)) as z.ZodType<
  RecipeDefinition,
  RecipeDefinition
>

function documentOf(text: (most: number) => z.ZodType<string>): z.ZodType<RecipeDefinition, unknown> {
  return z.strictObject({
    inputs: z
      .array(
        z.strictObject({
          from: z.union([z.strictObject({ crop: keyText }), z.strictObject({ material: keyText })]),
          suits: shareByClass.describe(
            'Accepted classes and how well each suits, above 0 up to 1; empty for a material',
          ),
          share: z.strictObject({ min: share, max: share }).describe('Part of the raw weight that is this input'),
          trim: z
            .array(z.strictObject({ kind: z.enum(trimKinds), share, shareByClass: z.exactOptional(shareByClass) }))
            .max(trimKinds.length),
        }),
      )
      .max(MOST_INPUTS),
    packs: z
      .array(
        z.strictObject({
          key: keyText,
          unit: text(40),
          units: text(40),
          jar: z.enum(jarSizes).nullable().default(null).describe('The jar it is heated in; null for bags and trays'),
          gramsPerUnit: z.int().min(1).max(MOST_GRAMS_PER_UNIT).describe('Raw weight for one'),
          worthMinor: z.int().min(0).max(MOST_WORTH_MINOR),
          runs: z
            .array(
              z.strictObject({
                name: text(60),
                unitsPerRun: z.int().min(1).max(1_000),
                fillAtLeast: share,
                machineMinutes,
                work: workMinutes,
                process: z
                  .boolean()
                  .default(false)
                  .describe("The tested minutes at the co-op's altitude come on top of the machines' minutes"),
              }),
            )
            .max(MOST_RUNS),
          workPerUnit: workMinutes,
          machineMinutesPerUnit: machineMinutes,
          supplies: z
            .record(keyText, z.number().gt(0).max(1_000_000))
            .refine((supplies) => Object.keys(supplies).length <= MOST_SUPPLIES),
          freezerMl: z.int().min(0).max(1_000_000),
          makes: z
            .strictObject({
              material: keyText,
              name: text(60),
              gramsPerUnit: z.int().min(1).max(MOST_GRAMS_PER_UNIT),
              readyAfterDays: z.int().min(0).max(365),
              keepsDays: z.int().min(0).max(365),
            })
            .nullable(),
        }),
      )
      .max(MOST_PACKS),
    ingredients: z
      .array(
        z.strictObject({
          supply: keyText,
          name: text(60),
          kind: z.enum(ingredientKinds),
          unit: z.enum(['g', 'ml', 'piece']),
          perKg: z.number().min(0).max(100_000).describe('For each kilogram of raw weight'),
          perUnit: z.record(keyText, z.number().min(0).max(100_000)).describe('For one unit, by the key of its pack'),
        }),
      )
      .max(MOST_INGREDIENTS)
      .default([]),
    process: z
      .strictObject({
        product: text(80),
        form: text(80).nullable(),
        pack: z.enum(packStyles),
        local: z.string().min(1).max(40).nullable(),
        minutes: minutes.nullable(),
        headspaceMm: z.number().min(0).max(100).nullable(),
      })
      .nullable()
      .default(null)
      .describe('What it claims to be processed like; null: nothing'),
    steps: z
      .array(
        z.strictObject({
          says: text(400),
          station: z.enum(stations),
          work: z.enum(workKinds).nullable(),
          hands: z.int().min(0).max(20),
          minutes: z.strictObject({ perKg: minutes, perUnit: minutes, perRun: minutes }),
          waitMinutes: z.int().min(0).max(525_600),
          equipment: z.array(z.enum(equipmentKinds)).max(equipmentKinds.length),
          thenAtOnce: z.boolean(),
        }),
      )
      .max(MOST_STEPS)
      .default([]),
    workPerKg: workMinutes.describe('Minutes of hands for each kilogram of raw weight'),
    cautions: z.array(text(400)).max(MOST_CAUTIONS),
    source: text(400),
  })
}

/**
 * Reads a stored definition.
 *
 * @throws Error that names the recipe, and where in the document it stops fitting
 */
export function readDefinition(recipe: string, stored: unknown): RecipeDefinition {
  const read = recipeDocument.safeParse(stored)
  if (read.success) return read.data
  const where = read.error.issues.map((issue) => issue.path.join('.') || 'the whole').join(', ')
  throw new Error(`The recipe "${recipe}" is stored in a form that no longer fits, at: ${where}.`)
}
