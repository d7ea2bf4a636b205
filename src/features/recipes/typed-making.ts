import type { Ingredient, ProcessClaim, Step } from '../../core/recipes/index.ts'
import type { Typed } from '../../web/forms.ts'
import { decimals } from './lists.ts'

/** Ingredients, process and steps as they would be typed; reading them again gives the same. */
export function makingTyped({
  ingredients,
  process,
  steps,
}: {
  ingredients: readonly Ingredient[]
  process: ProcessClaim | null
  steps: readonly Step[]
}): Typed {
  return {
    ...Object.assign({}, ...ingredients.map((one, row) => ingredientTyped(one, `ingredients.${row}`))),
    ...(process === null ? {} : claimTyped(process)),
    ...Object.assign({}, ...steps.map((step, row) => stepTyped(step, `steps.${row}`))),
  }
}

function ingredientTyped({ supply, name, kind, unit, perKg, perUnit }: Ingredient, at: string): Typed {
  // read to a thousandth
  const amount = (many: number) => `${Number(many.toFixed(3))} ${unit === 'piece' ? 'pieces' : unit}`
  return {
    [`${at}.name`]: name,
    [`${at}.kind`]: kind,
    [`${at}.supply`]: supply,
    [`${at}.perKg`]: perKg === 0 ? '' : amount(perKg),
    [`${at}.perUnit`]: Object.entries(perUnit)
      .map(([key, many]) => `${key} ${amount(many)}`)
      .join(', '),
  }
}

function claimTyped({ product, form, pack, local, minutes, headspaceMm }: ProcessClaim): Typed {
  return {
    'process.product': product,
    'process.form': form ?? '',
    'process.pack': pack,
    'process.local': local ?? '',
    'process.minutes': minutes === null ? '' : String(minutes),
    'process.headspaceMm': headspaceMm === null ? '' : `${headspaceMm} mm`,
  }
}

function stepTyped(step: Step, at: string): Typed {
  const shown = (many: number) => (many === 0 ? '' : decimals(many))
  return {
    [`${at}.says`]: step.says,
    [`${at}.station`]: step.station,
    [`${at}.work`]: step.work ?? '',
    [`${at}.hands`]: String(step.hands),
    [`${at}.perKg`]: shown(step.minutes.perKg),
    [`${at}.perUnit`]: shown(step.minutes.perUnit),
    [`${at}.perRun`]: shown(step.minutes.perRun),
    [`${at}.waitMinutes`]: shown(step.waitMinutes),
    [`${at}.equipment`]: step.equipment.join(', '),
    ...(step.thenAtOnce ? { [`${at}.thenAtOnce`]: 'yes' } : {}),
  }
}
