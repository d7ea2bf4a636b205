import { crops } from '../produce/index.ts'

/** A way of making something of a food that has a table of its own, and the foods for which the guide has it. */
export type Dish = { words: readonly string[]; products: readonly string[]; of: readonly string[] }

/** Fruit that the table of purees covers: all acid fruit, as it excludes others by name (Guide 2 p. 2-14). */
const pureed = crops
  .filter(({ kind, key, acidity }) => kind === 'fruit' && (acidity === 'acid' || key === 'apricot') && key !== 'lemon')
  .map(({ key }) => key)

/** Jams and jellies: the fruit listed in Guide 7, as read in the Michigan sheets 01600889, 01600890 and 01600891. */
const jamWithoutPectin = [
  'berries',
  'apricot',
  'peach',
  'blackberry',
  'gooseberry',
  'raspberry',
  'strawberry',
  'boysenberries',
  'dewberries',
  'loganberries',
]
const jamWithPectin = [
  'blueberry',
  'cherry-sweet',
  'cherry-sour',
  'blackcurrant',
  'redcurrant',
  'fig',
  'grape',
  'pear',
  'plum',
  'damson',
  'rhubarb',
  'youngberries',
]
const jellyWithoutPectin = ['apple', 'crab apples', 'crabapples', 'blackberry', 'grape', 'plum', 'damson']
const jellyWithPectin = [
  'blackcurrant',
  'redcurrant',
  'peach',
  'raspberry',
  'rhubarb',
  'strawberry',
  'boysenberries',
  'dewberries',
  'loganberries',
  'mayhaw',
  'mint',
]

/** Every dish that is reached by the name of its food. */
export const dishes: readonly Dish[] = [
  { words: ['sauce'], products: ['applesauce'], of: ['apple'] },
  { words: ['sauce'], products: ['tomato sauce, standard'], of: ['tomato'] },
  { words: ['butter'], products: ['apple butter'], of: ['apple'] },
  { words: ['juice'], products: ['apple juice'], of: ['apple'] },
  { words: ['juice'], products: ['grape juice'], of: ['grape'] },
  { words: ['juice', 'juiced'], products: ['tomato juice'], of: ['tomato'] },
  { words: ['crushed'], products: ['tomatoes, crushed'], of: ['tomato'] },
  { words: ['whole', 'halved', 'halves', 'peeled'], products: ['tomatoes, whole or halved'], of: ['tomato'] },
  { words: ['ketchup', 'catsup'], products: ['tomato ketchup'], of: ['tomato'] },
  { words: ['puree', 'pureed'], products: ['fruit purees'], of: pureed },
  { words: ['pie filling'], products: ['apple pie filling'], of: ['apple'] },
  { words: ['pie filling'], products: ['blueberry pie filling'], of: ['blueberry'] },
  { words: ['pie filling'], products: ['cherry pie filling'], of: ['cherry-sour'] },
  { words: ['pie filling'], products: ['peach pie filling'], of: ['peach'] },
  { words: ['jam'], products: ['jam, no added pectin', 'jam or jelly, added pectin'], of: jamWithoutPectin },
  { words: ['jam'], products: ['jam or jelly, added pectin'], of: jamWithPectin },
  { words: ['jelly'], products: ['jelly, no added pectin', 'jam or jelly, added pectin'], of: jellyWithoutPectin },
  { words: ['jelly'], products: ['jam or jelly, added pectin'], of: jellyWithPectin },
  { words: ['pickled', 'pickle'], products: ['pickled beets'], of: ['beet'] },
  { words: ['pickled', 'pickle'], products: ['pickled carrots', 'pickled baby carrots'], of: ['carrot'] },
  { words: ['pickled', 'pickle'], products: ['pickled dilled beans'], of: ['snap-bean'] },
  { words: ['pickled', 'pickle'], products: ['pickled hot peppers'], of: ['hot-pepper'] },
  { words: ['pickled', 'pickle'], products: ['pickled asparagus'], of: ['asparagus'] },
  { words: ['sauerkraut', 'fermented'], products: ['sauerkraut'], of: ['cabbage'] },
]
