import {
  isCanned,
  type Pack,
  type RecipeVerdict,
  type ScaledRecipe,
  type ShoppingLine,
  scaleRecipe,
  shoppingFor,
} from '../../core/recipes/index.ts'
import type { CoopWays } from '../../web/asking.ts'
import { formModel, radiosField, textField } from '../../web/fields.ts'
import { type Formatter, formatFor } from '../../web/format.ts'
import type { TypedForm } from '../../web/forms.ts'
import type { Supply } from '../supplies/queries.ts'
import { scaleKinds } from './amounts.ts'
import { supplyAmount } from './making-words.ts'
import { unitsText } from './pack-part.ts'
import { recipeAmountsPath, recipeCardPath, recipePath } from './paths.ts'
import type { KeptRecipe } from './queries.ts'
import { capital, inputName } from './words.ts'

/** How much of everything, and what to buy for it; `scaled` null: what was typed could not be read. */
export function amountsPage(
  recipe: KeptRecipe,
  form: TypedForm,
  scaled: ScaledRecipe | null,
  { supplies, verdict, coop }: { supplies: Supply[]; verdict: RecipeVerdict; coop: CoopWays },
) {
  const format = formatFor(coop)
  const { packs } = recipe.definition
  const pack = packs.find(({ key }) => key === scaled?.pack)
  return {
    title: `${recipe.name}: how much of everything`,
    place: 'coop' as const,
    action: recipeAmountsPath(recipe.id),
    form: formModel(
      {
        much: textField(form, {
          name: 'much',
          label: 'How much',
          hint: 'A weight like “63 kg” or “20 lb”; a whole number of jars or loads',
          enterkeyhint: 'go',
        }),
        by: radiosField(form, {
          name: 'by',
          label: 'That is',
          options: scaleKinds.map((value) => ({ value, text: kindWords[value] })),
        }),
        pack: radiosField(form, {
          name: 'pack',
          label: 'Put up in',
          options: packs.map(({ key, units }) => ({ value: key, text: units })),
        }),
      },
      form,
    ),
    result: scaled === null || pack === undefined ? null : resultPart(recipe, pack, scaled, supplies, verdict, format),
    back: recipePath(recipe.id),
  }
}

const kindWords = {
  weight: 'the weight of the produce',
  units: 'the number of jars or bags',
  loads: 'the number of full loads',
}

function resultPart(
  recipe: KeptRecipe,
  pack: Pack,
  scaled: ScaledRecipe,
  supplies: Supply[],
  verdict: RecipeVerdict,
  format: Formatter,
) {
  const stands = verdict.packs.find((one) => one.pack === pack.key)?.shelfStable === true
  return {
    sentence: amountsSentence(pack, scaled, format),
    none: scaled.units === 0,
    refused:
      isCanned(recipe.method) && !stands
        ? 'It does not follow a tested process in this size: not for the shelf. The recipe’s page says why.'
        : '',
    inputs: scaled.inputs.map(({ from, leastGrams, mostGrams }) => ({
      name: capital(inputName(from)),
      amount:
        Math.round(leastGrams) === Math.round(mostGrams)
          ? format.weight(mostGrams)
          : `${format.weight(leastGrams)} to ${format.weight(mostGrams)}`,
    })),
    ingredients: ingredientRows(scaled),
    loads: scaled.loads.map(
      ({ name, many, unitsPerRun, lastHolds }) =>
        `${format.number(many)} × ${name}${many > 1 && lastHolds < unitsPerRun ? `, the last one with ${unitsText(lastHolds, pack, format)}` : ''}`,
    ),
    shopping: shoppingFor([scaled.supplies], supplies).map((line) => shoppingRow(line, scaled, supplies, format)),
    card: `${recipeCardPath(recipe.id)}?${new URLSearchParams({ pack: pack.key, units: String(Math.max(1, scaled.units)) }).toString()}`,
  }
}

/** "63 kg of raw weight make 55 quarts, and 640 g are left over." */
function amountsSentence(pack: Pack, { units, usedGrams, leftGrams }: ScaledRecipe, format: Formatter): string {
  if (units === 0) return `${format.weight(leftGrams)} are less than one ${pack.unit} takes.`
  const left = leftGrams > 0 ? `, and ${format.weight(leftGrams)} are left over` : ''
  return `${unitsText(units, pack, format)} from ${format.weight(usedGrams)} of raw weight${left}.`
}

/** What goes in beside produce; what is measured into each jar is told by the jar. */
export function ingredientRows(scaled: ScaledRecipe) {
  return scaled.ingredients.map(({ name, words, eachUnit, together }) => ({
    name: capital(name),
    amount: words,
    how: [
      ...(together === null ? [] : [eachUnit === null ? '' : `${together.words} with the produce`]),
      ...(eachUnit === null ? [] : [`${eachUnit.words} into each`]),
    ]
      .filter(Boolean)
      .join(', '),
  }))
}

/** What is not among the supplies is called and measured as the recipe has it. */
function shoppingRow(line: ShoppingLine, scaled: ScaledRecipe, supplies: readonly Supply[], format: Formatter) {
  const { key, need, onHand, toBuy, packs, costMinor, short } = line
  const kept = supplies.some((supply) => supply.key === key)
  const goesIn = kept ? undefined : scaled.ingredients.find(({ supply }) => supply === key)
  const amount = (many: number) => supplyAmount(many, goesIn?.unit ?? line.unit, format)
  return {
    name: capital(goesIn?.name ?? line.name),
    need: amount(need),
    onHand: amount(onHand),
    buy:
      toBuy === 0
        ? 'nothing'
        : !kept
          ? `${amount(toBuy)}; not among the supplies`
          : short > 0
            ? `${amount(toBuy)}; ${amount(short)} more than can be had`
            : `${amount(toBuy)} in ${format.count(packs, 'pack')}, ${format.money(costMinor)}`,
    short: short > 0,
  }
}

/** The amounts of a recipe for a card: so many units of a pack. */
export function scaledFor(recipe: KeptRecipe, pack: Pack, units: number, coop: CoopWays): ScaledRecipe {
  return scaleRecipe(recipe.definition, pack, { units }, coop.units)
}
