import { acidFor } from '../../core/process/acid.ts'
import {
  acidityOf,
  acidNeeded,
  acidSwaps,
  type FoodAcidity,
  foodAcidity,
  phLine,
  phLineSources,
  pieFillingLemon,
} from '../../core/process/acidity.ts'
import type { JarSize } from '../../core/process/index.ts'
import type { AcidityClass } from '../../core/produce/index.ts'
import { fold } from '../../core/units/index.ts'
import type { CoopWays } from '../../web/asking.ts'
import { textField } from '../../web/fields.ts'
import { formatFor } from '../../web/format.ts'
import type { TypedForm } from '../../web/forms.ts'
import { cropsPath } from '../crops/paths.ts'
import { acidText, jarWords } from '../processes/index.ts'
import { processesPath } from '../processes/paths.ts'
import { capital } from './figures.ts'
import { line, section, sourcedTable, topicPage } from './parts.ts'
import { acidityPath } from './paths.ts'

/** Foods that a typed name means: by all their names, else by a part of the name. */
export function foodsNamed(name: string): readonly FoodAcidity[] {
  const known = acidityOf(name)
  if (known !== null) return known.foods
  const part = fold(name).trim()
  return part === '' ? [] : foodAcidity.filter(({ food }) => fold(food).includes(part))
}

/** How acid foods are, and how much acid goes into a jar. `name` null: all foods. */
export function acidityPage(form: TypedForm, coop: CoopWays, name: string | null) {
  const format = formatFor(coop)
  const foods = name === null ? foodAcidity : foodsNamed(name)
  const shown = [...foods].sort((a, b) => a.food.localeCompare(b.food, 'en'))
  const listed = section({
    id: 'foods',
    heading: name === null ? 'Published ranges' : `Listed for “${name}”`,
    says:
      shown.length === 0
        ? ['Nothing is listed under that name, and nothing may be assumed of it: treat it as low-acid.']
        : [],
    tables:
      shown.length === 0
        ? []
        : [
            sourcedTable(
              `${format.count(shown.length, 'food')} by name`,
              ['Food', '#pH', 'Class'],
              shown.map((food) => ({
                name: capital(food.food),
                cells: [phText(food, coop), classWords[food.class]],
                source: food.source,
              })),
            ),
          ],
    caution:
      'Ripeness, variety and season move how acid a food is. A pH permits no process by itself: follow a tested one.',
  })
  const rules = [
    section({
      id: 'line',
      heading: 'The line',
      lines: [
        line(
          `Up to pH ${format.number(phLine, 1)} a food is acid, above it low-acid, and borderline where its range lies on both sides. In a closed jar of low-acid food botulism can grow unless it was pressure canned.`,
          ...phLineSources,
        ),
      ],
    }),
    section({
      id: 'jars',
      heading: 'Acid in each jar',
      tables: [
        sourcedTable(
          'Crops that are canned with added acid only',
          ['Crop', ...acidJars.map((jar) => capital(jarWords[jar].one))],
          acidNeeded.map(({ food, choices, source }) => ({
            name: capital(food),
            cells: acidJars.map((jar) => capital(acidText(acidFor(choices, jar)))),
            source,
          })),
        ),
        sourcedTable(
          'Bottled lemon juice in published pie fillings, tablespoons',
          ['Filling', '#One quart', '#Seven quarts'],
          pieFillingLemon.map(({ fruit, perQuart, perSevenQuarts, source }) => ({
            name: capital(fruit),
            cells: [String(perQuart), String(perSevenQuarts)],
            source,
          })),
        ),
      ],
      lines: [
        line(
          `In the published salsas ${acidSwaps.allowed.instead} may take the place of ${acidSwaps.allowed.of}, as much of it. Never ${acidSwaps.refused.instead} in place of ${acidSwaps.refused.of}.`,
          acidSwaps.source,
        ),
      ],
    }),
  ]
  return topicPage({
    title: 'How acid foods are',
    sentence: `The line lies at pH ${format.number(phLine, 1)}: above it a closed jar needs a pressure canner.`,
    ask: {
      action: acidityPath(),
      button: 'Find it',
      form,
      fields: {
        q: textField(form, {
          name: 'q',
          label: 'Which food',
          hint: 'A name, like damsons or beans; empty shows all',
          optional: true,
          enterkeyhint: 'search',
        }),
      },
    },
    // what was searched for first; the long list last
    sections: name === null ? [...rules, listed] : [listed, ...rules],
    links: [
      { href: processesPath(), text: 'Look up a tested process' },
      { href: cropsPath(), text: 'What is known of each crop' },
    ],
  })
}

const acidJars: readonly JarSize[] = ['half-pint', 'pint', 'quart']

const classWords: Record<AcidityClass, string> = {
  acid: 'acid',
  borderline: 'borderline',
  'low-acid': 'low-acid',
}

function phText({ ph: { low, high } }: FoodAcidity, coop: CoopWays): string {
  const { number } = formatFor(coop)
  return low === high ? number(low, 2) : `${number(low, 2)} to ${number(high, 2)}`
}
