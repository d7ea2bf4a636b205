import { crop } from '../../core/produce/index.ts'
import { methods } from '../../core/produce/vocabulary.ts'
import { type KitchenPlace, type RecipeVerdict, verdictOn } from '../../core/recipes/index.ts'
import type { Starter } from '../../core/recipes/starters/index.ts'
import type { CoopWays } from '../../web/asking.ts'
import { formModel, selectField } from '../../web/fields.ts'
import { blankForm, type TypedForm } from '../../web/forms.ts'
import type { Names } from './pack-part.ts'
import { listOf, recipeParts } from './pages.ts'
import { recipePath, recipesPath, starterPath, startersPath } from './paths.ts'
import type { Taken } from './take-starter.ts'
import { standingNote } from './verdict-part.ts'
import { capital, inputName, methodWords } from './words.ts'

/** The library by method, each with its standing in this kitchen; with a crop's key, what takes that crop. */
export function startersPage(
  starters: readonly Starter[],
  asked: string | undefined,
  place: KitchenPlace,
  taken: Taken,
) {
  const shown = asked === undefined ? starters : starters.filter((one) => cropsOf(one).includes(asked))
  const form = blankForm({ crop: asked ?? '' })
  const options = [...new Set(starters.flatMap(cropsOf))]
    .map((value) => ({ value, text: capital(crop(value)?.plural ?? value) }))
    .sort((a, b) => a.text.localeCompare(b.text, 'en'))
  return {
    title: 'Recipes to begin with',
    place: 'coop' as const,
    sentence: startersSentence(shown.length, asked),
    action: startersPath(),
    all: asked === undefined ? '' : startersPath(),
    form: formModel(
      {
        crop: selectField(form, {
          name: 'crop',
          label: 'From',
          options: [{ value: '', text: 'any crop' }, ...options],
        }),
      },
      form,
    ),
    groups: methods.flatMap((method) => {
      const ofMethod = shown.filter((one) => one.method === method)
      if (ofMethod.length === 0) return []
      return [{ heading: capital(methodWords[method]), recipes: ofMethod.map((one) => entry(one, place, taken)) }]
    }),
    back: recipesPath(),
  }
}

/** One recipe of the library, as a recipe's page shows it. `form` has what kept it from being taken. */
export function starterPage(
  starter: Starter,
  form: TypedForm,
  { names, verdict, coop, taken }: { names: Names; verdict: RecipeVerdict; coop: CoopWays; taken: Taken },
) {
  const ours = taken.get(starter.name)
  return {
    ...recipeParts({ ...starter, id: null }, names, verdict, coop),
    form: formModel({}, form),
    action: starterPath(starter.key),
    ours: ours === undefined ? '' : recipePath(ours),
    back: startersPath(),
  }
}

function startersSentence(many: number, asked: string | undefined): string {
  const from = asked === undefined ? '' : ` from ${crop(asked)?.plural ?? 'that'}`
  return many === 0 ? `There is none${from} yet.` : `${many} ${many === 1 ? 'recipe' : 'recipes'}${from}.`
}

function entry(starter: Starter, place: KitchenPlace, taken: Taken) {
  const { key, name, definition } = starter
  const verdict = verdictOn(starter, place)
  return {
    name,
    href: starterPath(key),
    says: `${listOf(definition.inputs.map(({ from }) => inputName(from)))}, in ${listOf(definition.packs.map(({ units }) => units))}`,
    standing: verdict.standing === 'not-canned' ? '' : standingNote(verdict),
    refused: verdict.standing === 'departs' || verdict.standing === 'unknown',
    ours: taken.has(name),
  }
}

function cropsOf({ definition }: Starter): string[] {
  return definition.inputs.flatMap(({ from }) => ('crop' in from ? [from.crop] : []))
}
