import { canningSyrups, dryingTempC, freezerTempC, krautSaltFor } from '../../core/practice/index.ts'
import { phLine } from '../../core/process/acidity.ts'
import { boilingPointAt } from '../../core/process/atmosphere.ts'
import { gelPoint } from '../../core/process/gel.ts'
import { processTable } from '../../core/process/index.ts'
import { loadMinutes } from '../../core/process/pressure-practice.ts'
import { untestedStyles, whereTheyDiffer } from '../../core/process/refusals.ts'
import { gramsPerPound } from '../../core/units/index.ts'
import type { CoopWays } from '../../web/asking.ts'
import { formatFor } from '../../web/format.ts'
import { processesPath, processTablePath, untestedPath } from '../processes/paths.ts'
import { altitudeText, cupsText, temperaturesText, temperatureText } from './figures.ts'
import {
  acidityPath,
  altitudePath,
  differPath,
  dryingPath,
  fermentsPath,
  freezingPath,
  jarsPath,
  spreadsPath,
  syrupsPath,
} from './paths.ts'

/** All topics, each with a figure worth knowing at this altitude. */
export function handbookPage(coop: CoopWays) {
  const { number, percent, duration, count } = formatFor(coop)
  const { ninePints } = canningSyrups.medium
  const jelly = gelPoint('jelly', { altitudeM: coop.altitudeM }).celsius
  return {
    title: 'Handbook',
    place: 'coop' as const,
    sentence: `Figures for this kitchen at ${altitudeText(coop.altitudeM, coop)}, each with its source.`,
    topics: [
      {
        href: altitudePath(),
        name: 'Altitude and boiling water',
        says: `Water boils at ${temperatureText(boilingPointAt(coop.altitudeM), coop)} here.`,
      },
      {
        href: acidityPath(),
        name: 'Acidity',
        says: `The line between acid and low-acid lies at pH ${number(phLine, 1)}.`,
      },
      {
        href: jarsPath(),
        name: 'Jars and canner loads',
        says: `25 minutes in boiling water hold the canner for about ${duration(loadMinutes('boiling-water', 25).total)}.`,
      },
      {
        href: syrupsPath(),
        name: 'Syrups, baths, brines',
        says: `Medium syrup for 9 pints: ${cupsText(ninePints.cupsWater)} of water, ${cupsText(ninePints.cupsSugar)} of sugar.`,
      },
      { href: spreadsPath(), name: 'Jam and jelly', says: `Jelly is done at ${temperatureText(jelly, coop)} here.` },
      {
        href: freezingPath(),
        name: 'Freezing',
        says: `The freezer stands at ${temperaturesText([freezerTempC, freezerTempC], coop)}.`,
      },
      {
        href: dryingPath(),
        name: 'Drying',
        says: `Air of ${temperaturesText([dryingTempC.low, dryingTempC.high], coop)} dries without cooking.`,
      },
      {
        href: fermentsPath(),
        name: 'Ferments and vinegar',
        says: `Sauerkraut takes ${percent(krautSaltFor(5 * gramsPerPound).share)} of salt.`,
      },
    ],
    tested: [
      {
        href: processesPath(),
        name: 'Look up a process',
        says: 'Minutes and pressure for a jar, by the published tables.',
      },
      {
        href: processTablePath(),
        name: 'The whole table',
        says: `${count(processTable().length, 'row')}, each with its source.`,
      },
      {
        href: untestedPath(),
        name: 'What is not tested',
        says: `${count(untestedStyles().length, 'kind')} of food, and what to do instead.`,
      },
      {
        href: differPath(),
        name: 'Where they differ',
        says: `${count(whereTheyDiffer().length, 'matter')} in which practice is not what was tested.`,
      },
    ],
  }
}
