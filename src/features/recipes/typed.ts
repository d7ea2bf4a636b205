import type { Pack, RecipeInput } from '../../core/recipes/index.ts'
import type { Typed } from '../../web/forms.ts'
import { typedMass, typedMoney, typedPercent, typedVolume } from '../../web/typed.ts'
import { typedAmounts } from './lists.ts'
import type { KeptRecipe } from './queries.ts'
import { makingTyped } from './typed-making.ts'

/** The recipe form's fields as they would be typed for this recipe; reading them again gives the same recipe. */
export function recipeTyped({ name, method, definition, version }: KeptRecipe): Typed {
  const { inputs, packs, workPerKg, cautions, source } = definition
  return {
    version: String(version),
    name,
    method,
    workPerKg: typedAmounts(workPerKg),
    cautions: cautions.join('\n'),
    source,
    ...Object.assign({}, ...inputs.map((input, row) => inputTyped(input, `inputs.${row}`))),
    ...Object.assign({}, ...packs.map((pack, row) => packTyped(pack, `packs.${row}`))),
    ...makingTyped(definition),
  }
}

function inputTyped({ from, suits, share, trim }: RecipeInput, at: string): Typed {
  const typed: Record<string, string> = {
    [`${at}.from`]: 'crop' in from ? `crop:${from.crop}` : `material:${from.material}`,
    [`${at}.suits`]: typedAmounts(suits, 100),
    [`${at}.share`]:
      share.min === share.max ? typedPercent(share.min) : `${typedPercent(share.min)} to ${typedPercent(share.max)}`,
  }
  for (const [row, part] of trim.entries()) {
    typed[`${at}.trim.${row}.kind`] = part.kind
    typed[`${at}.trim.${row}.share`] = typedPercent(part.share)
    typed[`${at}.trim.${row}.byClass`] = typedAmounts(part.shareByClass ?? {}, 100)
  }
  return typed
}

function packTyped(pack: Pack, at: string): Typed {
  const typed: Record<string, string> = {
    [`${at}.unit`]: pack.unit,
    [`${at}.units`]: pack.units,
    [`${at}.key`]: pack.key,
    [`${at}.jar`]: pack.jar ?? '',
    [`${at}.gramsPerUnit`]: typedMass(pack.gramsPerUnit),
    [`${at}.worthMinor`]: typedMoney(pack.worthMinor),
    [`${at}.freezerMl`]: pack.freezerMl === 0 ? '' : typedVolume(pack.freezerMl),
    [`${at}.workPerUnit`]: typedAmounts(pack.workPerUnit),
    [`${at}.machineMinutesPerUnit`]: typedAmounts(pack.machineMinutesPerUnit),
  }
  for (const [row, [key, amount]] of Object.entries(pack.supplies).entries()) {
    typed[`${at}.supplies.${row}.key`] = key
    typed[`${at}.supplies.${row}.amount`] = String(amount)
  }
  for (const [row, run] of pack.runs.entries()) {
    typed[`${at}.runs.${row}.name`] = run.name
    typed[`${at}.runs.${row}.unitsPerRun`] = String(run.unitsPerRun)
    typed[`${at}.runs.${row}.fillAtLeast`] = typedPercent(run.fillAtLeast)
    typed[`${at}.runs.${row}.machineMinutes`] = typedAmounts(run.machineMinutes)
    typed[`${at}.runs.${row}.work`] = typedAmounts(run.work)
    if (run.process) typed[`${at}.runs.${row}.process`] = 'yes'
  }
  if (pack.makes !== null) {
    typed[`${at}.makes.name`] = pack.makes.name
    typed[`${at}.makes.gramsPerUnit`] = typedMass(pack.makes.gramsPerUnit)
    typed[`${at}.makes.readyAfterDays`] = String(pack.makes.readyAfterDays)
    typed[`${at}.makes.keepsDays`] = String(pack.makes.keepsDays)
  }
  return typed
}
