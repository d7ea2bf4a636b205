import { afterDrying, dryingTempC, drynessTests } from '../practice/drying.ts'
import { keepingOf } from '../practice/keeping.ts'
import { practice } from '../process/sources.ts'
import { fixedWay, type StageTemplate, stage, type Target, type Way } from './stage.ts'

const soft =
  'What is not dry all through moulds in the jar: throw away all of a jar in which there is mould. Racks and air are hot: keep children and pets away.'
const raw =
  'Vegetables keep only when they are brittle. Ask your local extension service or food authority for each kind: most are blanched first.'

const drying: Target = { kind: 'temperature', lowC: dryingTempC.low, highC: dryingTempC.high }
const overnight = practice('most thin slices are dry by the next day; the hours of each crop stand in the handbook')
const [conditioned, conditionedAtMost] = afterDrying.condition.days

/** Fruit that is dry, from the day on which that was found: conditioned, looked at, put away, eaten. */
function fromDry(from: number, after: number): StageTemplate[] {
  const { condition } = afterDrying
  return [
    stage(
      from,
      0,
      'Let it cool, fill jars two thirds, close them. Shake them every day from now on.',
      condition.source,
      {
        after,
      },
    ),
    stage(
      from + 1,
      conditioned,
      'Look at the glass. Drops on it: back to the dryer, and condition again.',
      condition.source,
      {
        after: from,
        measure: 'taste',
        target: { kind: 'look', says: 'no drops on the glass, nothing sticks together' },
      },
    ),
    stage(
      from + 2,
      conditionedAtMost,
      'Conditioned: pack it without air, label it, keep it cool and dark.',
      condition.source,
      {
        after: from,
        measure: 'weight',
      },
    ),
  ]
}

function eatBy(number: number, after: number, what: 'dried fruit' | 'dried vegetables'): StageTemplate {
  const life = keepingOf(what, 'shelf')
  if (life === null) throw new Error(`no figure for ${what}`)
  return stage(
    number,
    life.days[0],
    'Kept warm it is at its end now; kept cool it lasts twice as long. Look at it.',
    life.source,
    {
      after,
      measure: 'taste',
    },
  )
}

const {
  sun,
  pasteurise: { freezer },
} = afterDrying

/** Fruit and vegetables on trays. */
export const dryingWays: readonly Way[] = [
  fixedWay({ id: 'dried-fruit', kind: 'drying', name: 'Dried fruit', cautions: [soft] }, [
    stage(1, 0, 'Fill the trays in one layer and start the dryer.', dryingTempC.source, {
      measure: 'temperature',
      target: drying,
    }),
    stage(2, 1, 'Let a piece cool and try it. Not dry: back on the tray, try again in a few hours.', overnight, {
      measure: 'taste',
      target: { kind: 'look', says: drynessTests.fruit.says },
    }),
    ...fromDry(3, 2),
    eatBy(6, 5, 'dried fruit'),
  ]),
  fixedWay({ id: 'dried-vegetables', kind: 'drying', name: 'Dried vegetables', cautions: [soft, raw] }, [
    stage(11, 0, 'Fill the trays in one layer and start the dryer.', dryingTempC.source, {
      measure: 'temperature',
      target: drying,
    }),
    stage(12, 1, 'Let a piece cool and try it. Not dry: back on the tray, try again in a few hours.', overnight, {
      measure: 'taste',
      target: { kind: 'look', says: drynessTests.vegetable.says },
    }),
    stage(
      13,
      0,
      'Pack them without air, label them, keep them cool and dark.',
      practice('at once, before they take up water'),
      {
        after: 12,
        measure: 'weight',
      },
    ),
    stage(14, 7, 'Look at the glass. Drops on it: back to the dryer.', practice('a look after a week'), {
      after: 13,
      measure: 'taste',
      target: { kind: 'look', says: 'no drops on the glass' },
    }),
    eatBy(15, 13, 'dried vegetables'),
  ]),
  fixedWay(
    {
      id: 'sun-dried-fruit',
      kind: 'drying',
      name: 'Fruit dried in the sun',
      cautions: [
        soft,
        'Fruit only: vegetables and meat spoil in the sun. Bring the trays in at night and when it turns damp.',
      ],
    },
    [
      stage(
        21,
        0,
        'Lay it on screens in the sun, off the ground, under a cloth. Dry, hot and breezy days only.',
        sun.source,
        {
          measure: 'temperature',
          target: { kind: 'temperature', lowC: sun.leastTempC, highC: dryingTempC.high },
        },
      ),
      stage(22, 1, 'Turn it, and bring it in at night, every day from now on.', practice('daily')),
      stage(23, 4, 'Let a piece cool and try it.', practice('several days'), {
        measure: 'taste',
        target: { kind: 'look', says: drynessTests.fruit.says },
      }),
      stage(24, 0, `Into the freezer for ${freezer.hours} hours: it may hold insects and their eggs.`, freezer.source, {
        after: 23,
        measure: 'temperature',
        target: { kind: 'temperature', lowC: -40, highC: freezer.tempC },
      }),
      stage(25, freezer.hours / 24, 'Take it out of the freezer.', freezer.source, { after: 24 }),
      ...fromDry(26, 25),
      eatBy(29, 28, 'dried fruit'),
    ],
  ),
]
