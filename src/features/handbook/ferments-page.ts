import {
  crockFor,
  crockRoom,
  fermentBands,
  ferments,
  keepingOf,
  krautSalt,
  krautSaltFor,
  tooWarm,
} from '../../core/practice/index.ts'
import { gramsPerPound, kitchenAmount, mlPer } from '../../core/units/index.ts'
import type { CoopWays } from '../../web/asking.ts'
import { numberField } from '../../web/fields.ts'
import { formatFor } from '../../web/format.ts'
import type { TypedForm } from '../../web/forms.ts'
import { processesPath } from '../processes/paths.ts'
import { capital, inBoth, inchesText, monthsText, rangeText, temperaturesText } from './figures.ts'
import type { FermentsAsked } from './forms.ts'
import { line, plainTable, type Section, section, sourcedTable, topicPage } from './parts.ts'
import { fermentsPath, syrupsPath } from './paths.ts'
import { saltTable } from './salt-part.ts'
import { expectedSection, vinegarSections } from './vinegar-part.ts'

/** Sauerkraut, dills and vinegar; `asked` null: nothing was asked, or not understood. */
export function fermentsPage(form: TypedForm, coop: CoopWays, asked: FermentsAsked | null) {
  const kraut = krautSaltFor(5 * gramsPerPound)
  return topicPage({
    title: 'Ferments and vinegar',
    sentence: `Sauerkraut takes ${formatFor(coop).percent(kraut.share)} of salt by the weight of the cabbage.`,
    ask: {
      action: fermentsPath(),
      button: 'Work it out',
      form,
      fields: {
        cabbage: numberField(form, {
          name: 'cabbage',
          label: 'Cabbage for sauerkraut',
          hint: 'Trimmed and shredded, like 10 kg or 25 lb',
          optional: true,
        }),
        brix: numberField(form, {
          name: 'brix',
          label: 'Juice for vinegar',
          hint: 'Degrees Brix, as a hydrometer or refractometer shows them',
          optional: true,
          suffix: '°Bx',
        }),
        sugar: numberField(form, {
          name: 'sugar',
          label: 'Sugar for vinegar from peels and cores',
          hint: 'Table sugar in a litre of water or juice',
          optional: true,
          suffix: 'g/l',
        }),
        measured: numberField(form, {
          name: 'measured',
          label: 'Acidity as measured',
          hint: 'By titration, once the vinegar is done',
          optional: true,
          suffix: '%',
        }),
      },
    },
    sections: [
      ...(asked === null ? [] : workedOut(asked, coop)),
      krautSection(coop),
      timeSection(coop),
      ...vinegarSections(coop),
    ],
    links: [
      { href: syrupsPath(), text: 'Brine and salt' },
      { href: processesPath(), text: 'Look up a tested process for sauerkraut or pickles' },
    ],
  })
}

function workedOut(asked: FermentsAsked, coop: CoopWays): Section[] {
  return [...(asked.cabbage === null ? [] : [cabbageSection(asked.cabbage, coop)]), ...expectedSection(asked, coop)]
}

function cabbageSection(grams: number, coop: CoopWays): Section {
  const salt = krautSaltFor(grams)
  const crock = crockFor(grams)
  const { weight, number, volume } = formatFor(coop)
  const saltText = kitchenAmount(salt.grams, 'g', { system: 'metric', up: true }).words
  return section({
    id: 'cabbage',
    heading: `For ${weight(grams)} of cabbage`,
    tables: [
      sourcedTable(
        'Salt and crock',
        ['What', '#How much'],
        [
          {
            name: 'Canning salt',
            cells: [inBoth(coop, saltText, `${number(salt.tablespoons, 1)} tbsp`)],
            source: salt.source,
          },
          { name: 'Crock, at least', cells: [volume(crock.ml)], source: crock.source },
          {
            name: 'Gives about',
            cells: [inBoth(coop, volume(salt.quarts * mlPer.quart), `${number(salt.quarts, 1)} quarts`)],
            source: salt.source,
          },
        ],
      ),
    ],
  })
}

function krautSection(coop: CoopWays): Section {
  return section({
    id: 'salt',
    heading: 'Salt, crock and brine',
    tables: [saltTable(coop)],
    lines: [
      line(krautSalt.advice, krautSalt.alsoPrinted.source),
      line(
        `Brine stands ${inchRange(crockRoom.brineOverInches, coop)} over the food, and the rim ${inchRange(crockRoom.rimOverCabbageInches, coop)} over the cabbage.`,
        crockRoom.source,
      ),
    ],
    caution:
      'Salt is not cut in a ferment. Skim it daily; what is slimy, soft, pink or smells foul is thrown away, untasted.',
  })
}

function timeSection(coop: CoopWays): Section {
  return section({
    id: 'weeks',
    heading: 'How long it takes',
    tables: [
      sourcedTable(
        'Weeks by temperature',
        ['Ferment', '#At', '#Weeks'],
        ferments.flatMap((ferment) =>
          fermentBands[ferment].map(({ fromC, toC, weeks, source }) => ({
            name: capital(ferment),
            cells: [temperaturesText([fromC, toC], coop), rangeText(weeks)],
            source,
          })),
        ),
      ),
      plainTable(
        'Afterwards, in the refrigerator',
        ['Ferment', '#Keeps'],
        keptCold.map(({ what, days: [low, high] }) => ({
          name: capital(what),
          cells: [monthsText([Math.floor(low / 30), Math.floor(high / 30)])],
        })),
        keptCold.map(({ source }) => source),
      ),
    ],
    lines: ferments.map((ferment) => {
      const { aboveC, source } = tooWarm[ferment]
      return line(`${capital(ferment)}: above ${temperaturesText([aboveC, aboveC], coop)} it grows soft.`, source)
    }),
  })
}

const keptCold = ['sauerkraut', 'fermented dill pickles'].flatMap((what) => keepingOf(what, 'refrigerator') ?? [])

function inchRange([low, high]: readonly [number, number], coop: CoopWays): string {
  return `${inchesText(low, coop)} to ${inchesText(high, coop)}`
}
