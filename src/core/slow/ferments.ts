import { crockRoom } from '../practice/brine.ts'
import { type Ferment, fermentBands, fermentTime, tooWarm } from '../practice/fermenting.ts'
import { keepingOf } from '../practice/keeping.ts'
import { phLine, phLineSources } from '../process/acidity.ts'
import { type Citation, practice, seen } from '../process/sources.ts'
import { fixedWay, type Given, type StageTemplate, stage, type Target, type Way } from './stage.ts'

const underBrine =
  'Keep everything under the brine, and never cut the salt. Throw it all away if it turns soft, slimy, pink or smells foul; do not taste it to find out.'
const coldOrTested =
  'Before its pH is below 4.6 a ferment is not kept at room temperature once it is done, and below it only by a tested process in jars; otherwise keep it cold. Ask your local extension service or food authority where you are in doubt.'

const acid: Target = { kind: 'ph-below', ph: phLine }
const phSource = phLineSources[0] ?? seen('usda-2015', 'Guide 1 p. 1-8')
const look = practice('two or three times a week')
const [overLow, overHigh] = crockRoom.brineOverInches

type Published = {
  ferment: Ferment
  /** Its name in the list of what keeps how long. */
  keeps: string
  fill: string
  fillSource: Citation
  /** The number of its first stage. */
  from: number
}

function publishedStages(
  { ferment, keeps, fill, fillSource, from }: Published,
  { temperatureC }: Given,
): readonly StageTemplate[] | { refused: string } {
  const [warmest, ...cooler] = fermentBands[ferment]
  const life = keepingOf(keeps, 'refrigerator')
  if (warmest === undefined || life === null) throw new Error(`no figures for ${ferment}`)
  const time =
    temperatureC === null
      ? { answer: 'weeks' as const, weeks: warmest.weeks, source: warmest.source }
      : fermentTime(ferment, temperatureC)
  if (time.answer !== 'weeks') return { refused: time.says }
  const [least, most] = time.weeks
  const lowC = Math.min(warmest.fromC, ...cooler.map(({ fromC }) => fromC))
  const place: Target = { kind: 'temperature', lowC, highC: tooWarm[ferment].aboveC }
  const first: StageTemplate = stage(from, 0, fill, fillSource, { measure: 'temperature', target: place })
  return [
    first,
    stage(from + 1, 2, 'Skim it; does the brine cover everything? From now on every two or three days.', look),
    stage(from + 2, 7, 'Skim it. Is the place still right?', tooWarm[ferment].source, {
      measure: 'temperature',
      target: place,
    }),
    stage(from + 3, least * 7, 'It may be done: no more bubbles. Take a little out and measure it.', time.source, {
      measure: 'ph',
      target: acid,
    }),
    stage(
      from + 4,
      most * 7,
      'It is done by now. Measure it, pack it and keep it cold, or put it up by a tested process.',
      time.source,
      { measure: 'ph', target: acid },
    ),
    stage(from + 5, life.days[0], 'What is kept cold should be eaten by now: look at it and smell it.', life.source, {
      after: from + 4,
      measure: 'taste',
    }),
  ]
}

function published(id: string, name: string, of: Published): Way {
  return {
    id,
    kind: 'ferment',
    name,
    cautions: [underBrine, coldOrTested],
    asksTemperature: true,
    stages: (given) => publishedStages(of, given),
  }
}

/** Cabbage, cucumbers and other vegetables in salt and brine. */
export const fermentWays: readonly Way[] = [
  published('sauerkraut', 'Sauerkraut', {
    ferment: 'sauerkraut',
    keeps: 'sauerkraut',
    fill: `Pack the salted cabbage, weigh it down: juice or brine stands ${overLow} to ${overHigh} inches over it.`,
    fillSource: crockRoom.source,
    from: 1,
  }),
  published('dill-pickles', 'Fermented dill pickles', {
    ferment: 'dill pickles',
    keeps: 'fermented dill pickles',
    fill: `Cover the cucumbers with brine, weigh them down: it stands ${overLow} to ${overHigh} inches over them.`,
    fillSource: crockRoom.source,
    from: 11,
  }),
  fixedWay(
    {
      id: 'brined-vegetables',
      kind: 'ferment',
      name: 'Other vegetables in brine',
      cautions: [underBrine, coldOrTested],
    },
    [
      stage(
        21,
        0,
        'Cover them with brine, weigh them down, cover the vessel with cloth or a lid that lets gas out.',
        practice('as for cabbage'),
      ),
      stage(22, 2, 'Skim it; does the brine cover everything? From now on every two or three days.', look),
      stage(23, 7, 'Smell it and take a little out to measure.', practice('a first look after a week'), {
        measure: 'ph',
        target: acid,
      }),
      stage(
        24,
        14,
        'Measure it. Below 4.6: keep it cold, or let it go on. Not below: let it go on, measure in a week.',
        phSource,
        {
          measure: 'ph',
          target: acid,
        },
      ),
      stage(
        25,
        28,
        'Measure it for the last time. Not below 4.6 after four weeks: throw it away.',
        practice('four weeks'),
        {
          measure: 'ph',
          target: acid,
        },
      ),
    ],
  ),
]
