import { seen } from '../process/sources.ts'
import type { ProcessRow } from '../process/types.ts'
import { crop } from '../produce/crops.ts'
import { trimKinds } from '../produce/vocabulary.ts'
import { departure } from './departures.ts'
import { cropOfMaterial, cropsPublishedFor } from './published-crops.ts'
import type { RecipeDefinition, RecipeInput } from './recipe.ts'
import type { Departure } from './verdict-types.ts'

/** The line between acid and low-acid food: pH 4.6 (Guide 1 p. 1-8). */
const acidLine = seen('usda-2015', 'Guide 1 p. 1-8')

/** What of the produce is not what a tested row was published for. Shares do not excuse: a little of it counts too. */
export function produceDepartures(definition: RecipeDefinition, row: ProcessRow, name: string): Departure[] {
  const published = cropsPublishedFor(row.product)
  return [
    ...definition.inputs.flatMap((input, number) => inputDeparture(input, `inputs.${number}`, row, published)),
    ...whiteFlesh(definition, name),
  ]
}

function inputDeparture(
  input: RecipeInput,
  at: string,
  row: ProcessRow,
  published: readonly string[] | undefined,
): Departure[] {
  if ('material' in input.from) return materialDeparture(input.from.material, at, row, published)
  const key = input.from.crop
  if (published?.includes(key)) return []
  const known = crop(key)
  const plural = known?.plural ?? key
  const low =
    known !== undefined && (known.acidity === 'low-acid' || (known.acidity === 'borderline' && known.acidityNotice))
  if (!low || row.acidity === 'low-acid') return [otherProduce(plural, at, row, published)]
  const ph = `pH ${known.ph.low} to ${known.ph.high}`
  if (input.share.max < 0.5) {
    const percent = `${input.share.min < input.share.max ? 'Up to ' : ''}${Math.round(input.share.max * 100)} %`
    const says = `${percent} ${plural} (${ph}) are added; “${row.product}” was tested without them.`
    return [departure('added-low-acid', at, says, known.acidityNotice ?? acidLine)]
  }
  const says = `${capital(plural)} ${acidWords(known.ph, ph)}; “${row.product}” was tested as acid food.`
  return [departure('alkaline-crop', at, says, known.acidityNotice ?? acidLine)]
}

/** Elderberries have a published pH that is low, and were found above the line since. */
function acidWords({ low, high }: { low: number; high: number }, ph: string): string {
  if (low > 4.6) return `lie above pH 4.6 (published: ${ph})`
  return high > 4.6
    ? `can lie above pH 4.6 (published: ${ph})`
    : `were found above pH 4.6, whatever older lists say (${ph})`
}

function materialDeparture(
  material: string,
  at: string,
  row: ProcessRow,
  published: readonly string[] | undefined,
): Departure[] {
  const words = material.replaceAll('-', ' ')
  if (/vinegar/.test(material)) {
    return [departure('unmeasured-vinegar', at, homeMadeVinegar(words), row.source)]
  }
  const of = cropOfMaterial(material)
  if (of !== undefined && published?.includes(of) && !trimKinds.some((kind) => kind === material)) return []
  return [otherProduce(words, at, row, published)]
}

/** Home-made vinegar's acid is not known (Guide 1 p. 1-28, Guide 3 p. 3-19). */
export function homeMadeVinegar(name: string): string {
  return `The acid of ${name} has not been measured; tested recipes have vinegar of 5 %.`
}

/** No longer a list than can be read. */
const namesShown = 6

function otherProduce(words: string, at: string, row: ProcessRow, published: readonly string[] | undefined): Departure {
  const names = (published ?? []).map((key) => crop(key)?.plural ?? key)
  const more = names.length > namesShown ? ` and ${names.length - namesShown} more` : ''
  const tested = names.length === 0 ? '' : ` (${names.slice(0, namesShown).join(', ')}${more})`
  return departure(
    'other-produce',
    at,
    `${capital(words)}: not what “${row.product}” was tested with${tested}.`,
    row.source,
  )
}

/** A crop's key does not say the colour of the flesh; people do, in the name of the recipe or of what it claims. */
function whiteFlesh({ inputs, process }: RecipeDefinition, name: string): Departure[] {
  const said = [name, process?.product ?? '', process?.form ?? ''].join(' ')
  if (!/white[- ]?flesh|white (peach|nectarine)/i.test(said)) return []
  const number = inputs.findIndex(({ from }) => 'crop' in from && (from.crop === 'peach' || from.crop === 'nectarine'))
  if (number < 0) return []
  const says = 'White-fleshed peaches and nectarines can lie above pH 4.6; only yellow ones were tested.'
  return [departure('white-flesh', `inputs.${number}`, says, crop('peach')?.acidityNotice ?? acidLine)]
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1)
}
