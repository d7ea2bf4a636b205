import { keepingOf, restingTimes } from '../practice/keeping.ts'
import { practice } from '../process/sources.ts'
import { fixedWay, stage, type Way } from './stage.ts'

const spirits =
  'Spirits burn: keep them away from flames, and out of reach of children. The fruit stays under the spirit all the time.'
const sugared =
  'Fruit in sugar alone is not for the shelf: it stands in the refrigerator, and is frozen, cooked or put up by a tested process. Throw it away, untasted, if it bubbles or smells of yeast.'
const sealed =
  'Never taste what has bulged, leaks or smells off. Rules differ from place to place: your local extension service or food authority goes before this page.'

const resting = (what: string) => {
  const found = restingTimes.find((one) => one.what === what)
  if (found === undefined) throw new Error(`no figure for ${what}`)
  return found
}
const pickles = resting('bread-and-butter and quick sweet pickles')
const rawPacked = resting('raw-packed fruit')
const canned = keepingOf('home-canned food', 'shelf')
if (canned === null) throw new Error('no figure for home-canned food')

/** Fruit that gives its juice and taste to sugar or spirits. */
export const maceratingWays: readonly Way[] = [
  fixedWay({ id: 'fruit-in-spirits', kind: 'macerating', name: 'Fruit in spirits', cautions: [spirits] }, [
    stage(
      1,
      0,
      'Cover the fruit with spirits of 40 % or more, close the jar.',
      practice('vodka or another clear spirit'),
    ),
    stage(2, 1, 'Shake it, and from now on once a week.', practice('shaken now and then')),
    stage(3, 28, 'Taste it: does it taste of the fruit?', practice('four weeks'), { measure: 'taste' }),
    stage(4, 84, 'Strain it, sweeten it, fill it in bottles.', practice('about three months for stone fruit'), {
      measure: 'taste',
    }),
    stage(5, 84, 'Taste it: it has become rounder, or stands on.', practice('three months at rest'), {
      after: 4,
      measure: 'taste',
    }),
  ]),
  fixedWay({ id: 'fruit-in-sugar', kind: 'macerating', name: 'Fruit in sugar', cautions: [sugared] }, [
    stage(
      11,
      0,
      'Layer fruit and sugar, cover it, put it in the refrigerator.',
      practice('as much sugar as the recipe says'),
    ),
    stage(12, 1, 'Stir it: juice should have come.', practice('overnight'), { measure: 'taste' }),
    stage(13, 2, 'Cook it, freeze it, or strain the syrup and keep it cold.', practice('two days at most')),
  ]),
]

/** What is finished and stands until it is at its best. */
export const ageingWays: readonly Way[] = [
  fixedWay({ id: 'quick-pickles', kind: 'ageing', name: 'Quick pickles until they taste', cautions: [sealed] }, [
    stage(1, pickles.weeks[0] * 7, 'Open one jar and taste it.', pickles.source, { measure: 'taste' }),
    stage(2, pickles.weeks[1] * 7, 'At their best from now on.', pickles.source),
    stage(3, canned.days[0], 'Eat what is left: it is a year old.', canned.source),
  ]),
  fixedWay({ id: 'raw-packed-fruit', kind: 'ageing', name: 'Raw-packed fruit on the shelf', cautions: [sealed] }, [
    stage(
      11,
      rawPacked.weeks[0] * 7,
      'Look at the jars: fruit above the syrup may discolour from now on.',
      rawPacked.source,
      {
        measure: 'taste',
      },
    ),
    stage(12, rawPacked.weeks[1] * 7, 'Look again, and eat first what has discoloured.', rawPacked.source, {
      measure: 'taste',
    }),
    stage(13, canned.days[0], 'Eat what is left: it is a year old.', canned.source),
  ]),
  fixedWay({ id: 'liqueur-at-rest', kind: 'ageing', name: 'Liqueur or vinegar at rest', cautions: [spirits] }, [
    stage(21, 90, 'Taste it.', practice('three months'), { measure: 'taste' }),
    stage(22, 180, 'Pour it off the sediment and taste it.', practice('half a year'), { measure: 'taste' }),
    stage(23, 365, 'Taste it, and decide whether it stands on.', practice('a year'), { measure: 'taste' }),
  ]),
]
