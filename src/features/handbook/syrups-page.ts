import {
  canningSyrup,
  canningSyrupNames,
  canningSyrupSource,
  canningSyrups,
  cupForCup,
  freezingSyrup,
  freezingSyrupNames,
  freezingSyrupSource,
  freezingSyrups,
  mostReplaced,
  replacedSource,
  type SyrupAmounts,
  syrupCupsPerFrozenPint,
} from '../../core/practice/index.ts'
import { gramsPerCup, gramsPerCupSource } from '../../core/practice/measures.ts'
import { kitchenAmount, mlPer } from '../../core/units/index.ts'
import type { CoopWays } from '../../web/asking.ts'
import { numberField, selectField } from '../../web/fields.ts'
import { formatFor } from '../../web/format.ts'
import type { TypedForm } from '../../web/forms.ts'
import { jarWords } from '../processes/index.ts'
import { bathsSection } from './baths-part.ts'
import { capital, cupsText, fractionText, inBoth, rangeText, sugarText, waterText } from './figures.ts'
import { syrupJars } from './forms.ts'
import { line, plainTable, section, topicPage } from './parts.ts'
import { fermentsPath, freezingPath, syrupsPath } from './paths.ts'
import { saltTable } from './salt-part.ts'

export type SyrupsAsked = { jars: number; jar: (typeof syrupJars)[number] }

/** Syrups, baths against browning, brines; `asked` null: no number of jars was understood. */
export function syrupsPage(form: TypedForm, coop: CoopWays, asked: SyrupsAsked | null) {
  const medium = asked === null ? null : canningSyrup('medium', asked.jar, asked.jars)
  return topicPage({
    title: 'Syrups, baths and brines',
    sentence:
      medium === null || asked === null
        ? 'Syrup is for flavour, colour and shape: plain water or juice takes the same time.'
        : `${jarsText(asked, coop)} of fruit in medium syrup: ${waterText(medium.mlWater, coop)} of water, ${sugarText(medium.gramsSugar, coop)} of sugar.`,
    ask: {
      action: syrupsPath(),
      button: 'Work it out',
      form,
      fields: {
        jars: numberField(form, { name: 'jars', label: 'How many jars' }),
        jar: selectField(form, {
          name: 'jar',
          label: 'Which jars',
          options: syrupJars.map((value) => ({ value, text: jarWords[value].more })),
        }),
      },
    },
    sections: [
      ...(asked === null ? [] : [forTheseJars(asked, coop)]),
      canningSection(coop),
      freezingSection(coop),
      honeySection(coop),
      bathsSection(coop),
      section({
        id: 'brine',
        heading: 'Brine and salt',
        tables: [saltTable(coop)],
        lines: [
          line(
            `Weigh salt where you can: a cup of it is taken as ${gramsPerCup.canningSalt} g here.`,
            gramsPerCupSource,
          ),
        ],
        caution: 'In a ferment the salt holds back what would spoil it: do not use less.',
      }),
    ],
    links: [
      { href: freezingPath(), text: 'Freezing' },
      { href: fermentsPath(), text: 'Ferments and vinegar' },
    ],
  })
}

function forTheseJars(asked: SyrupsAsked, coop: CoopWays) {
  return section({
    id: 'these-jars',
    heading: `For ${jarsText(asked, coop)}`,
    tables: [
      plainTable(
        `Canning syrup for ${jarsText(asked, coop)}`,
        ['Syrup', '#Water', '#Sugar', '#Sugar by weight'],
        canningSyrupNames.map((name) => ({
          name: capital(name),
          cells: amountCells(canningSyrup(name, asked.jar, asked.jars), coop),
        })),
        [canningSyrupSource, gramsPerCupSource],
      ),
    ],
    says: [
      'In proportion to the printed loads, rounded to what a kitchen can measure. Make a little more: jars differ in how full they are packed. Printed strengths are round figures; the last column says what is really in it.',
    ],
  })
}

function canningSection(coop: CoopWays) {
  return section({
    id: 'canning',
    heading: 'Canning syrups as printed',
    tables: [
      plainTable(
        'Water and sugar for a canner load',
        ['Syrup', '#Printed strength', '9 pints: water', 'sugar', '7 quarts: water', 'sugar'],
        canningSyrupNames.map((name) => {
          const { percent, ninePints, sevenQuarts } = canningSyrups[name]
          return {
            name: capital(name),
            cells: [
              `${percent} %`,
              waterCups(ninePints.cupsWater, coop),
              sugarCups(ninePints.cupsSugar, coop),
              waterCups(sevenQuarts.cupsWater, coop),
              sugarCups(sevenQuarts.cupsSugar, coop),
            ],
          }
        }),
        [canningSyrupSource, gramsPerCupSource],
      ),
    ],
  })
}

function freezingSection(coop: CoopWays) {
  return section({
    id: 'freezing',
    heading: 'Freezing syrups',
    tables: [
      plainTable(
        'One batch, and what ten pint packages take',
        ['Syrup', '#Printed strength', 'Water', 'Sugar', 'Makes', '10 pints: water', 'sugar'],
        freezingSyrupNames.map((name) => {
          const { percent, cupsWater, cupsSugar, makesCups } = freezingSyrups[name]
          const ten = freezingSyrup(name, 10)
          return {
            name: capital(name),
            cells: [
              `${percent} %`,
              waterCups(cupsWater, coop),
              sugarCups(cupsSugar, coop),
              waterCups(makesCups, coop),
              waterText(ten.mlWater, coop),
              sugarText(ten.gramsSugar, coop),
            ],
          }
        }),
        [freezingSyrupSource, gramsPerCupSource],
      ),
    ],
    lines: [
      line(
        `A pint package takes ${syrupCupsPerFrozenPint.map(fractionText).join(' to ')} cup of cold syrup; the larger is counted here.`,
        freezingSyrupSource,
      ),
    ],
  })
}

function honeySection(coop: CoopWays) {
  const { percent } = formatFor(coop)
  return section({
    id: 'honey',
    heading: 'Honey or light corn syrup in place of sugar',
    lines: [
      line(
        `In canning syrup it may replace up to ${percent(mostReplaced.canning)} of the sugar.`,
        replacedSource.canning,
      ),
      line(`In freezing syrup up to ${percent(mostReplaced.freezing)}.`, replacedSource.freezing),
      line('Cup for cup; honey tastes sweeter.', cupForCup),
      line(`A cup of honey weighs ${gramsPerCup.honey} g, a cup of sugar ${gramsPerCup.sugar} g.`, gramsPerCupSource),
    ],
  })
}

function jarsText({ jars, jar }: SyrupsAsked, coop: CoopWays): string {
  return formatFor(coop).count(jars, jarWords[jar].one, jarWords[jar].more)
}

function amountCells({ mlWater, gramsSugar, strength }: SyrupAmounts, coop: CoopWays): string[] {
  return [waterText(mlWater, coop), sugarText(gramsSugar, coop), `${rangeText([strength * 100, strength * 100], 0)} %`]
}

/** Printed cups, exactly, and what they are in metric measures. */
function waterCups(cups: number, coop: CoopWays): string {
  return inBoth(coop, kitchenAmount(cups * mlPer.cup, 'ml', { system: 'metric' }).words, cupsText(cups))
}

function sugarCups(cups: number, coop: CoopWays): string {
  return inBoth(coop, kitchenAmount(cups * gramsPerCup.sugar, 'g', { system: 'metric' }).words, cupsText(cups))
}
