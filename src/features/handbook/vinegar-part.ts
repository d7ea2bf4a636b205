import {
  expectedAcidity,
  legalMinimum,
  picklingAcidity,
  scrapVinegar,
  sugarForAcidity,
  usualEfficiency,
  usualEfficiencySource,
  vinegarChemistrySource,
  vinegarMaking,
  vinegarUse,
} from '../../core/practice/vinegar.ts'
import type { CoopWays } from '../../web/asking.ts'
import { formatFor } from '../../web/format.ts'
import { cupsText, rangeText, temperaturesText } from './figures.ts'
import type { FermentsAsked } from './forms.ts'
import { line, plainTable, type Section, section, sourcedTable } from './parts.ts'

/** What the sugar that was typed may become, and what a measured acidity may be used for. */
export function expectedSection({ brix, sugar, measured }: FermentsAsked, coop: CoopWays): Section[] {
  const { number } = formatFor(coop)
  const sections: Section[] = []
  if (brix !== null || sugar !== null) {
    const juice = { brix: brix ?? 0, tableSugarGramsPerLitre: sugar ?? 0 }
    const usual = expectedAcidity(juice)
    const most = expectedAcidity({ ...juice, efficiency: 1 })
    sections.push(
      section({
        id: 'expected',
        heading: `About ${number(usual.acidity, 1)} % of acid, if all goes well`,
        says: [
          usual.reachesLegalMinimum
            ? `That would be enough to be called vinegar (${number(legalMinimum.acidity, 1)} %).`
            : `That is less than may be called vinegar (${number(legalMinimum.acidity, 1)} %).`,
        ],
        tables: [
          sourcedTable(
            'From sugar to acid',
            ['Reckoned with', '#Acidity'],
            [
              {
                name: `${formatFor(coop).percent(usualEfficiency)} of the sugar becoming acid`,
                cells: [`${number(usual.acidity, 1)} %`],
                source: usualEfficiencySource,
              },
              {
                name: 'All of it, which never happens',
                cells: [`${number(most.acidity, 1)} %`],
                source: vinegarChemistrySource,
              },
            ],
          ),
        ],
        caution: `${vinegarUse(null).says} This is what the sugar could give, not what is in the jar.`,
      }),
    )
  }
  if (measured !== null) {
    const use = vinegarUse(measured)
    sections.push(
      section({
        id: 'measured',
        heading: use.mayPickle ? 'What it was measured at' : 'Not for canning or pickling',
        lines: [line(use.says, use.source)],
      }),
    )
  }
  return sections
}

/** How vinegar is made, and what it may be used for. */
export function vinegarSections(coop: CoopWays): Section[] {
  const { number, percent } = formatFor(coop)
  const { tempC, fillShare, weeks, pasteuriseC, starter } = vinegarMaking
  const unmeasured = vinegarUse(null)
  return [
    section({
      id: 'vinegar',
      heading: 'Vinegar from juice, peels and cores',
      says: ['Yeast turns sugar to alcohol without air; then vinegar bacteria turn alcohol to acid with it.'],
      tables: [
        sourcedTable(
          'Making it',
          ['What', '#Figure', 'How'],
          [
            {
              name: 'Temperature',
              cells: [temperaturesText([tempC.low, tempC.high], coop), 'from beginning to end'],
              source: tempC.source,
            },
            {
              name: 'Yeast',
              cells: [
                `${starter.cakesOfWineYeastPerFiveGallons} cake`,
                'of wine yeast for 5 gallons (19 l) of juice; not bread yeast',
              ],
              source: starter.source,
            },
            {
              name: 'Vessel',
              cells: [`${percent(fillShare.most)} full`, 'stirred every day, under a cloth'],
              source: fillShare.source,
            },
            {
              name: 'Time',
              cells: [
                `${rangeText([weeks.low, weeks.high])} weeks`,
                'or more, until it is sour: only measuring tells how sour',
              ],
              source: weeks.source,
            },
            {
              name: 'Pasteurise',
              cells: [temperaturesText([pasteuriseC.low, pasteuriseC.high], coop), 'once it is done, to stop it'],
              source: pasteuriseC.source,
            },
            {
              name: 'Sugar with peels and cores',
              cells: [cupsText(scrapVinegar.mostSugarCupsPerGallon), 'for a gallon (3.8 l) of water, at most'],
              source: scrapVinegar.source,
            },
            {
              name: 'Peels and cores out',
              cells: [
                `${rangeText(scrapVinegar.scrapsOutAfterDays)} days`,
                `then ${scrapVinegar.thenAtLeastDays} days or more to acid`,
              ],
              source: scrapVinegar.source,
            },
          ],
        ),
        plainTable(
          'Sugar that an acidity asks for',
          ['Acidity', '#All of it turning', `#${percent(usualEfficiency)} of it turning`],
          [legalMinimum.acidity, picklingAcidity.acidity].map((acidity) => ({
            name: `${number(acidity, 1)} %`,
            cells: [
              `${number(sugarForAcidity(acidity))} g/l`,
              `${number(sugarForAcidity(acidity, usualEfficiency))} g/l`,
            ],
          })),
          [vinegarChemistrySource, usualEfficiencySource],
        ),
      ],
    }),
    section({
      id: 'use',
      heading: 'What it may be used for',
      lines: [
        line(`Less than ${number(legalMinimum.acidity, 1)} % may not be called vinegar.`, legalMinimum.source),
        line(`Recipes for the jar count on ${number(picklingAcidity.acidity, 1)} %.`, picklingAcidity.source),
        line(unmeasured.says, unmeasured.source),
      ],
      caution:
        'Home-made vinegar is for salads and the pan. It goes into no jar for the shelf unless its acidity has been measured at 5 % or more, and bought vinegar is the better choice there.',
    }),
  ]
}
