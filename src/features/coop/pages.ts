import { boilingPointAt, kPaPerPsi, pressureAt, toFahrenheit } from '../../core/process/atmosphere.ts'
import { type UnitSystem, unitSystems } from '../../core/units/index.ts'
import type { CoopWays } from '../../web/asking.ts'
import { formModel, radiosField, textField } from '../../web/fields.ts'
import { formatFor } from '../../web/format.ts'
import type { TypedForm } from '../../web/forms.ts'
import { aloneIn } from '../../web/lengths.ts'
import type { Page } from '../../web/views.ts'
import { coopPath, coopSettingsPath, ownUnitsPath } from './paths.ts'
import type { CoopSettings, HouseholdCount } from './queries.ts'

/** One noun with what is most worth knowing of it; `says` is '' while there is nothing. */
export type Section = { href: string; name: string; says: string }

export type CoopPage = Page & {
  sentence: string
  /** What the altitude does to boiling water. */
  air: { name: string; says: string }[]
  sections: Section[]
  households: { name: string; says: string }[]
  settings: string
  ownUnits: string
}

/** The page that answers how the co-op works: what is set up once and changed seldom, with the essentials of each. */
export function coopPage(coop: CoopWays, sections: Section[], households: HouseholdCount[]): CoopPage {
  const format = formatFor(coop)
  return {
    title: `How ${coop.name} works`,
    place: 'coop',
    sentence: `${format.count(households.length, 'household')} in ${coop.town}, ${format.altitude(coop.altitudeM)} above the sea.`,
    air: airFacts(coop),
    sections: sections.map(({ says, ...section }) => ({ ...section, says: says === '' ? 'nothing yet' : says })),
    households: households.map(({ name, helpers, lots }) => ({
      name,
      says: `${helpers === 0 ? 'no helper' : format.count(helpers, 'helper')}, ${lots === 0 ? 'no lot' : format.count(lots, 'lot')} brought`,
    })),
    settings: coopSettingsPath(),
    ownUnits: ownUnitsPath(),
  }
}

/** Boiling point and air pressure of the standard atmosphere: information, which no process is taken from. */
function airFacts(coop: CoopWays): CoopPage['air'] {
  const format = formatFor(coop)
  const celsius = boilingPointAt(coop.altitudeM)
  const kPa = pressureAt(coop.altitudeM)
  const us = coop.units === 'us'
  return [
    {
      name: 'Water boils at about',
      says: us ? `${format.number(toFahrenheit(celsius), 1)} °F` : `${format.number(celsius, 1)} °C`,
    },
    {
      name: 'Air pressure is about',
      says: us ? `${format.number(kPa / kPaPerPsi, 1)} psi` : `${format.number(kPa, 1)} kPa`,
    },
  ]
}

/** The form for the co-op's name, place and units. */
export function coopSettingsPage(form: TypedForm, coop: CoopSettings, reads: UnitSystem) {
  const alone = aloneIn(form.typed, reads)
  return {
    title: 'Name, place and units',
    place: 'coop' as const,
    action: coopSettingsPath(),
    back: coopPath(),
    alone,
    fixed: [
      { name: 'Time zone', says: coop.timeZone },
      { name: 'Language and region', says: coop.locale },
      { name: 'Currency', says: coop.currency },
    ],
    form: formModel(coopFields(form, alone), form),
  }
}

/** The fields of `coopForm`; `alone` is in whose units a bare number is an altitude. */
export function coopFields(form: TypedForm, alone: UnitSystem) {
  return {
    name: textField(form, { name: 'name', label: 'Name of the co-op' }),
    town: textField(form, { name: 'town', label: 'Town or village' }),
    altitudeM: textField(form, {
      name: 'altitudeM',
      label: 'Altitude of the kitchen',
      hint: `Above the sea, like “640 m” or “2,100 ft”; a number alone is in ${alone === 'us' ? 'feet' : 'metres'}. Kept in whole metres, rounded up`,
    }),
    units: radiosField(form, {
      name: 'units',
      label: 'Units',
      hint: 'What everybody reads who has not chosen otherwise; either may be typed',
      options: unitSystems.map((value) => ({ value, text: unitWords[value] })),
    }),
  }
}

/** The form for the units of whoever is asking. */
export function ownUnitsPage(form: TypedForm, coopUnits: UnitSystem) {
  return {
    title: 'My own units',
    place: 'coop' as const,
    action: ownUnitsPath(),
    back: coopPath(),
    form: formModel(
      {
        units: radiosField(form, {
          name: 'units',
          label: 'Show me',
          options: [
            { value: 'coop', text: 'as the co-op does', hint: unitWords[coopUnits] },
            ...unitSystems.map((value) => ({ value, text: unitWords[value] })),
          ],
        }),
      },
      form,
    ),
  }
}

const unitWords: Record<UnitSystem, string> = {
  metric: 'kilograms, litres, metres, °C',
  us: 'pounds, quarts, feet, °F',
}
