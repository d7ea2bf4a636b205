import { crops } from '../produce/index.ts'
import { type Citation, seen } from './sources.ts'
import { cuts, spelled } from './spelling.ts'

/** Why low-acid food is never heated in boiling water or steam. */
export const lowAcidSource: Citation = seen(
  'usda-2015',
  'Guide 1 p. 1-8',
  'pH above 4.6: 240 to 250 °F under pressure; boiling water would take 7 to 11 hours',
)

/**
 * Food above pH 4.6 as it grows, beside the crops that say so themselves: what the guide names for pressure only (Guide 1
 * p. 1-8 and Guides 3 to 5), and what the published pH lists put above the line at least in part.
 */
const lowAcidFoods: readonly string[] = [
  ...['asparagus', 'dried beans', 'dry beans', 'dried peas', 'lima beans', 'beans', 'butter beans', 'runner beans'],
  ...['green beans', 'baked beans', 'kidney beans', 'beets', 'carrots', 'corn', 'mixed vegetables', 'vegetables'],
  ...['mushrooms', 'okra', 'green peas', 'peas', 'black-eyed peas', 'peppers', 'potatoes', 'white potatoes'],
  ...['sweet potatoes', 'pumpkin', 'winter squash', 'squash', 'summer squash', 'soup', 'soups', 'vegetable soup'],
  ...['greens', 'spinach', 'chard', 'kale', 'collards', 'succotash', 'tomatoes with okra or zucchini'],
  ...['spaghetti sauce', 'chile con carne', 'chili con carne', 'meat', 'poultry', 'fish', 'seafood', 'shellfish'],
  ...['chicken', 'turkey', 'duck', 'rabbit', 'beef', 'pork', 'lamb', 'veal', 'venison', 'clams', 'crab', 'oysters'],
  ...['shrimp', 'tuna', 'salmon', 'broth', 'stock', 'meat stock', 'nuts', 'peanuts'],
  ...['artichokes', 'avocados', 'broccoli', 'brussels sprouts', 'cabbage', 'cauliflower', 'celery', 'eggplant'],
  ...['garlic', 'horseradish', 'leeks', 'lettuce', 'onions', 'parsnips', 'rutabagas', 'swedes', 'turnips', 'radishes'],
  ...['kohlrabi', 'cactus', 'cactus pears'],
  ...['chestnuts', 'herbs', 'cucumbers', 'hominy', 'tofu'],
]

/** Words that say how food is cut or cooked, and nothing of its acidity. */
const plainWays: readonly string[] = [
  ...['plain', 'fresh', 'frozen', 'raw', 'cooked', 'boiled', 'whole', 'sliced', 'diced', 'cubed', 'halved', 'cut'],
  ...['pieces', 'mashed', 'mash', 'puree', 'pureed', 'shelled', 'peeled', 'chopped', 'shredded', 'creamed', 'baked'],
  ...['cream style', 'whole kernel', 'unpickled', 'stewed', 'roasted', 'spears', 'quartered', 'baby', 'young'],
]

const foods: ReadonlySet<string> = new Set(
  [
    ...lowAcidFoods,
    ...crops
      .filter(({ acidity }) => acidity === 'low-acid')
      .flatMap(({ key, singular, plural, synonyms }) => [key, singular, plural, ...synonyms]),
  ].map(spelled),
)
const ways: ReadonlySet<string> = new Set(plainWays.map(spelled))

/** Whether words only say how food is cut or cooked. */
export function isPlainWay(words: string): boolean {
  return ways.has(spelled(words))
}

/** Whether a name is that of a listed low-acid food, by itself or with a plain word for how it is cut or cooked. */
export function isLowAcidFood(name: string): boolean {
  const words = spelled(name)
  return (
    foods.has(words) ||
    cuts(words).some(
      ([first, second]) => (ways.has(first) && foods.has(second)) || (foods.has(first) && ways.has(second)),
    )
  )
}
