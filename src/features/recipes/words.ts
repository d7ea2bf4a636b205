import { crop } from '../../core/produce/index.ts'
import { type Method, methods, type TrimKind, trimKinds } from '../../core/produce/vocabulary.ts'
import type { RecipeFault, RecipeInput, RecipeProblem } from '../../core/recipes/index.ts'

/** How a method is read, within a sentence. */
export const methodWords: Record<Method, string> = {
  'water-bath-canned': 'water-bath canned',
  'pressure-canned': 'pressure canned',
  frozen: 'frozen',
  dried: 'dried',
  fermented: 'fermented',
  juiced: 'juiced',
  refrigerated: 'kept in the refrigerator',
  fresh: 'eaten fresh',
}

export const trimWords: Record<TrimKind, string> = {
  'peels-cores': 'peels and cores',
  pomace: 'pomace',
  'stones-stems': 'stones and stems',
}

/** The first letter large, for headings and options. */
export function capital(text: string): string {
  return text.charAt(0).toLocaleUpperCase() + text.slice(1)
}

export const methodOptions = methods.map((value) => ({ value, text: capital(methodWords[value]) }))

/** "apples", "peels and cores", "apple juice" */
export function inputName(from: RecipeInput['from']): string {
  return 'crop' in from ? (crop(from.crop)?.plural ?? from.crop) : materialName(from.material)
}

/** A material by what it is called; its key with spaces where no recipe of the co-op says more. */
export function materialName(key: string): string {
  const trim = trimKinds.find((kind) => kind === key)
  return trim === undefined ? key.replaceAll('-', ' ') : trimWords[trim]
}

/** What to do about each fault, by the place it was found at. The first of each place is kept. */
export function faultWords(problems: readonly RecipeProblem[]): Record<string, string> {
  const words: Record<string, string> = {}
  for (const { at, fault } of problems) words[at] ??= wordsOf[fault]
  return words
}

const wordsOf: Record<RecipeFault, string> = {
  'no-input': 'Say what goes in: one crop or material at least',
  'same-input-twice': 'Name each crop or material once',
  'unknown-crop': 'Choose a crop from the list',
  'no-class': 'Enter which classes are taken and how well each suits, like “firm 80, ripe 100”',
  'class-of-material': 'Leave the classes empty: peels and juice are in no class',
  'suit-out-of-range': 'Give each class more than 0 and at most 100',
  'share-out-of-range': 'Enter a share like “100” or “50 to 80”, the smaller number first',
  'shares-below-whole': 'The shares can never make up the whole: together the larger numbers come to less than 100',
  'shares-above-whole': 'The shares are more than the whole: together the smaller numbers come to more than 100',
  'trim-above-whole': 'More leaves as trim than comes in: in each class the shares come to 100 at most',
  'no-pack': 'Say in what it is put up: one size at least',
  'pack-key-twice': 'Give each size a short name of its own',
  'weight-not-positive': 'Enter the raw weight for one, like “1.25 kg”',
  'worth-negative': 'Enter what one is worth, like 4.50',
  'run-holds-nothing': 'Enter how many make a full load, from 1',
  'fill-out-of-range': 'Enter how full the last load must be, from 0 to 100',
  'minutes-not-possible': 'Enter minutes from 0 to a week',
  'supply-not-positive': 'Enter an amount above 0',
  'freezer-not-possible': 'Enter the room in the freezer, like “1.9 l”',
  'makes-nothing': 'Enter the weight that one gives, like “1 kg”',
  'makes-more-than-goes-in': 'No more can come out than goes in: enter less than the raw weight for one',
  'keeps-shorter-than-it-waits': 'It must keep at least as long as it has to wait',
  'ingredient-without-name': 'Say what the ingredient is called',
  'ingredient-not-positive': 'Enter an amount above 0, by weight of produce or for one of a size',
  'ingredient-for-no-pack': 'An amount for one is given for a size that the recipe does not have',
  'unit-of-another-kind': 'Enter this in grams or, for what is poured, millilitres: pieces cannot be compared',
  'claim-without-product': 'Choose the tested product that it is made like, or leave the whole claim out',
  'claim-on-uncanned': 'Only what is canned in jars can follow a tested process: leave this out',
  'claimed-minutes-not-possible': 'Enter minutes above 0 and up to 600, or leave it empty',
  'claimed-headspace-not-possible': 'Enter a headspace above 0 and up to 200 mm, or leave it empty',
  'heated-without-claim': 'A load that is heated in the jar needs the process that it follows: choose one',
  'step-without-words': 'Say what is done in this step',
  'hands-not-possible': 'Enter how many people do it at once, from 1 to 50',
  'hands-without-work': 'Say which work it is, or leave its minutes at 0',
  'wait-not-possible': 'Enter a wait from 0 minutes to four weeks',
}
