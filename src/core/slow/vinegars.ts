import { legalMinimum, scrapVinegar, vinegarMaking } from '../practice/vinegar.ts'
import { fixedWay, type StageTemplate, stage, type Target, type Way } from './stage.ts'

const notForCanning =
  'Home-made vinegar whose acidity has not been measured is never for canning or pickling, however sour it tastes: it is for salads and the pan. Ask your local extension service or food authority before you use your own vinegar in a jar for the shelf.'
const lye =
  'A titration uses sodium hydroxide (lye), which burns skin and eyes: adults only, with gloves and goggles, and out of reach of children.'
const spoiled = 'Throw it away, untasted, if mould grows on it or it smells foul.'

const { tempC, fillShare, weeks, pasteuriseC } = vinegarMaking
const warm: Target = { kind: 'temperature', lowC: tempC.low, highC: tempC.high }
const sour: Target = { kind: 'acidity-least', percent: legalMinimum.acidity }
const measureIt = 'Measure the acidity by titration. Not sour enough: let it stand on, and measure again in a week.'
const [scrapsTasted, scrapsOut] = scrapVinegar.scrapsOutAfterDays

/** What comes once it is sour; `after` is the stage at which its acidity is measured. */
function finish(number: number, after: number): StageTemplate[] {
  return [
    stage(
      number,
      1,
      'Strain it through cloth into clean bottles. Heat it to stop it changing, or keep it cold.',
      pasteuriseC.source,
      {
        after,
        measure: 'temperature',
        target: { kind: 'temperature', lowC: pasteuriseC.low, highC: pasteuriseC.high },
      },
    ),
  ]
}

/** Juice, cider, or peels and cores that turn to vinegar. */
export const vinegarWays: readonly Way[] = [
  fixedWay(
    {
      id: 'vinegar-juice',
      kind: 'vinegar',
      name: 'Vinegar from juice or cider',
      cautions: [notForCanning, lye, spoiled],
    },
    [
      stage(
        1,
        0,
        'Fill the vessel three quarters at most (glass, plastic, wood, enamel or stainless steel), cover it with cloth.',
        fillShare.source,
        { measure: 'temperature', target: warm },
      ),
      stage(2, 1, 'Stir it, and from now on every day.', fillShare.source),
      stage(3, 7, 'Is the place still right? Look for mould.', tempC.source, { measure: 'temperature', target: warm }),
      stage(4, weeks.low * 7, 'Taste it: it may be sour by now.', weeks.source, {
        measure: 'taste',
        target: { kind: 'look', says: 'sour, no longer sweet, no smell of alcohol' },
      }),
      stage(5, weeks.high * 7, measureIt, legalMinimum.source, { measure: 'acidity', target: sour }),
      ...finish(6, 5),
    ],
  ),
  fixedWay(
    {
      id: 'vinegar-scraps',
      kind: 'vinegar',
      name: 'Vinegar from peels and cores',
      cautions: [notForCanning, lye, spoiled],
    },
    [
      stage(
        11,
        0,
        'Cover peels and cores with sugared water, keep them under it, cover the vessel with cloth.',
        scrapVinegar.source,
        { measure: 'temperature', target: warm },
      ),
      stage(12, scrapsTasted, 'Stir and smell. Strain the scraps out once they sink.', scrapVinegar.source, {
        measure: 'taste',
      }),
      stage(13, scrapsOut, 'Strain the scraps out now, if they are still in.', scrapVinegar.source),
      stage(14, scrapVinegar.thenAtLeastDays, measureIt, legalMinimum.source, {
        after: 13,
        measure: 'acidity',
        target: sour,
      }),
      ...finish(15, 14),
    ],
  ),
]
