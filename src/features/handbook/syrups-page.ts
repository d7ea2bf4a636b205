import {
  ascorbicAcidFor,
  type Brine,
  bathNames,
  baths,
  canningSyrup,
  canningSyrupNames,
  canningSyrupSource,
  canningSyrups,
  cupForCup,
  dillPickleBrine,
  freezingSyrup,
  freezingSyrupNames,
  freezingSyrupSource,
  freezingSyrups,
  krautSaltFor,
  mostReplaced,
  otherDryingSoaks,
  replacedSource,
  type SyrupAmounts,
  syrupCupsPerFrozenPint,
  topUpBrine,
} from '../../core/practice/index.ts'
import { gramsPerCup, gramsPerCupSource } from '../../core/practice/measures.ts'
import { gramsPerPound, kitchenAmount, mlPer } from '../../core/units/index.ts'
import type { CoopWays } from '../../web/asking.ts'
import { numberField, selectField } from '../../web/fields.ts'
import { formatFor } from '../../web/format.ts'
import type { TypedForm } from '../../web/forms.ts'
import { jarWords, minutesText } from '../processes/index.ts'
import { capital, cupsText, fractionText, inBoth, rangeText } from './figures.ts'
import { syrupJars } from './forms.ts'
import { line, plainTable, section, sourcedTable, topicPage } from './parts.ts'
import { fermentsPath, freezingPath, syrupsPath } from './paths.ts'

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
      brineSection(coop),
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
      'In proportion to the printed loads, rounded to what a kitchen can measure. Make a little more: jars differ in how full they are packed.',
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

function bathsSection(coop: CoopWays) {
  const ml = coop.units === 'metric' ? 4000 : mlPer.gallon
  const amount = coop.units === 'metric' ? '4 l' : '1 gallon'
  return section({
    id: 'baths',
    heading: 'Baths against browning',
    says: [
      'Vitamin C (ascorbic acid), as crystals or crushed tablets. It keeps fruit pale; it is not the acid that a jar needs.',
    ],
    tables: [
      sourcedTable(
        `Ascorbic acid for ${amount} of water or syrup`,
        ['Bath', 'For', '#Crystals', '#Tablets of 500 mg', 'How long'],
        bathNames.map((name) => {
          const { says, minutes } = baths[name]
          const acid = ascorbicAcidFor(name, ml)
          return {
            name: capital(name),
            cells: [
              says,
              `${formatFor(coop).number(acid.grams, 1)} g (${fractionText(Math.ceil(acid.teaspoons * 4 - 1e-6) / 4)} tsp)`,
              formatFor(coop).number(acid.tablets),
              minutes === null ? 'while you work' : minutesText(minutes),
            ],
            source: acid.source,
          }
        }),
      ),
      sourcedTable(
        'Other soaks before drying',
        ['Soak', 'In 2 cups of water', 'How long'],
        otherDryingSoaks.map(({ of, teaspoonsPerTwoCups, minutes, source }) => ({
          name: capital(of),
          cells: [
            teaspoonsPerTwoCups === null ? 'one to one' : `${fractionText(teaspoonsPerTwoCups)} tsp`,
            minutesText(minutes),
          ],
          source,
        })),
      ),
    ],
  })
}

function brineSection(coop: CoopWays) {
  const kraut = krautSaltFor(5 * gramsPerPound)
  const topUp = topUpBrine(mlPer.quart)
  const dill = dillPickleBrine(4 * gramsPerPound)
  const { percent, weight } = formatFor(coop)
  return section({
    id: 'brine',
    heading: 'Brine and salt',
    tables: [
      sourcedTable(
        'Canning or pickling salt',
        ['For', '#Salt', 'With', '#Salt by weight'],
        [
          {
            name: `Sauerkraut, ${inBoth(coop, weight(5 * gramsPerPound), '5 lb')} of cabbage`,
            cells: [saltText(kraut.tablespoons, kraut.grams, coop), 'its own juice', percent(kraut.share)],
            source: kraut.source,
          },
          {
            name: 'Topping up a crock',
            cells: [saltText(topUp.tablespoonsSalt, topUp.gramsSalt, coop), liquids(topUp, coop), percent(topUp.share)],
            source: topUp.source,
          },
          {
            name: `Fermented dills, ${inBoth(coop, weight(4 * gramsPerPound), '4 lb')} of cucumbers`,
            cells: [saltText(dill.tablespoonsSalt, dill.gramsSalt, coop), liquids(dill, coop), percent(dill.share)],
            source: dill.source,
          },
        ],
      ),
    ],
    lines: [
      line(`Weigh salt where you can: a cup of it is taken as ${gramsPerCup.canningSalt} g here.`, gramsPerCupSource),
    ],
    caution: 'In a ferment the salt holds back what would spoil it: do not use less.',
  })
}

function liquids({ mlWater, mlVinegar }: Brine, coop: CoopWays): string {
  const water = `${waterText(mlWater, coop)} of water`
  return mlVinegar === 0 ? water : `${water} and ${waterText(mlVinegar, coop)} of vinegar of 5 %`
}

function saltText(tablespoons: number, grams: number, coop: CoopWays): string {
  return inBoth(coop, `${formatFor(coop).number(grams)} g`, `${fractionText(tablespoons)} tbsp`)
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

/** Worked out, so rounded to what a kitchen measures. */
function waterText(ml: number, coop: CoopWays): string {
  const [metric, us] = (['metric', 'us'] as const).map((system) => kitchenAmount(ml, 'ml', { system }).words)
  return inBoth(coop, metric ?? '', us ?? '')
}

function sugarText(grams: number, coop: CoopWays): string {
  const [metric, us] = (['metric', 'us'] as const).map(
    (system) => kitchenAmount(grams, 'g', { system, substance: 'sugar' }).words,
  )
  return inBoth(coop, metric ?? '', us ?? '')
}
