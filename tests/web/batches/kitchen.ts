import { expect } from 'vitest'
import { starters } from '../../../src/core/recipes/starters/index.ts'
import type { TestApp } from '../../support/app.ts'
import { takeIn } from '../lots/lots.ts'

/** A co-op at 640 m with recipes of the library, places, supplies and a lot of 20 kg of ripe plums. */
export async function preserving(app: TestApp) {
  const { coopId, prisma } = app
  for (const key of [
    'plums-in-light-syrup',
    'apple-juice-for-jelly',
    'apple-jelly',
    'dried-plums',
    'frozen-rhubarb',
    'figs-in-light-syrup',
  ]) {
    const found = starters.find((starter) => starter.key === key) ?? expect.fail(`the library lacks ${key}`)
    const { name, method, definition } = found
    await prisma.recipe.create({
      data: { coopId, id: key, name, method, definition: JSON.parse(JSON.stringify(definition)) },
    })
  }
  await prisma.place.createMany({
    data: [
      { coopId, id: 'pantry', name: 'hall pantry', kind: 'pantry' },
      { coopId, id: 'fridge', name: 'big fridge', kind: 'refrigerator' },
      { coopId, id: 'chest', name: 'chest freezer', kind: 'freezer' },
    ],
  })
  await prisma.supply.createMany({
    data: [
      {
        coopId,
        id: 'jars',
        key: 'jar-pint',
        name: 'pint jars',
        unit: 'jar',
        onHand: 0,
        packSize: 12,
        packPriceMinor: 900,
        packsAtMost: 9,
      },
      {
        coopId,
        id: 'lids',
        key: 'lid',
        name: 'lids',
        unit: 'lid',
        onHand: 0,
        packSize: 12,
        packPriceMinor: 300,
        packsAtMost: 9,
      },
      {
        coopId,
        id: 'sugar',
        key: 'sugar',
        name: 'sugar',
        unit: 'g',
        onHand: 0,
        packSize: 1000,
        packPriceMinor: 120,
        packsAtMost: 9,
      },
    ],
  })
  await prisma.helper.createMany({
    data: [
      { coopId, id: 'wilfred', name: 'Wilfred Marsh', ageBand: 'adult', skills: ['cut', 'stove'] },
      { coopId, id: 'pip', name: 'Pip Odell', ageBand: 'child', skills: ['wash'] },
    ],
  })
  await prisma.outlet.create({
    data: {
      coopId,
      id: 'compost',
      kind: 'compost',
      name: 'compost heap',
      rank: 1,
      worthPerKgMinor: 0,
      takesProduce: true,
      crops: [],
      classes: [],
      materials: ['stones-stems'],
      open: true,
    },
  })
  const lotId = await takeIn(app, {
    weight: '20 kg',
    crop: 'plum',
    class: 'ripe',
    storage: 'cold',
    variety: 'Czar',
    broughtBy: 'Ines Odell',
  })
  return { lotId }
}

/** Raises a supply to so many, by an entry as a stock-take writes it. */
export async function stockSupply({ prisma, coopId, app }: TestApp, supplyId: string, units: number): Promise<void> {
  await prisma.shelfEntry.create({
    data: {
      coopId,
      id: `stock-${supplyId}-${units}-${Math.random().toString(36).slice(2, 8)}`,
      at: app.clock.now(),
      by: 'Rosalind Pike',
      kind: 'count',
      units,
      supplyId,
    },
  })
}

export const plumsForm = '/batches/new?product=plums-in-light-syrup%3Apint&units=7'

/** Seven pints of plums, processed for the 25 minutes that are due at 640 m. */
export function plums(lotId: string): Record<string, string> {
  return {
    [`lot.${lotId}.ripe`]: '4.2 kg',
    units: '7',
    handMinutes: '95',
    'trim.stones-stems.grams': '300 g',
    'trim.stones-stems.outlet': 'compost',
    helpers: 'pip',
    'process.canner': 'the blue one',
    'process.reachedAt': '8:00',
    'process.endedAt': '8:25',
    'process.by': 'Wilfred Marsh',
    placeId: 'pantry',
    allergens: '',
    note: 'a little tart',
  }
}

/** Every gram of a lot by its newest sorting: classes, set aside, lost, used. */
export async function accountOf({ prisma }: TestApp, lotId: string) {
  const row = await prisma.sorting.findFirstOrThrow({ where: { lotId }, orderBy: { createdAt: 'desc' } })
  const { firmGrams, ripeGrams, softGrams, damagedGrams, setAsideGrams, lostGrams, usedGrams, how } = row
  return {
    how,
    usedGrams,
    whole: firmGrams + ripeGrams + softGrams + damagedGrams + setAsideGrams + lostGrams + usedGrams,
  }
}

/** Stock of lines and supplies that is not the sum of their entries; must be empty. */
export async function unequalStocks({ prisma, coopId }: TestApp): Promise<string[]> {
  const lines = await prisma.jarBatch.findMany({ where: { coopId }, include: { entries: true } })
  const supplies = await prisma.supply.findMany({ where: { coopId }, include: { shelf: true } })
  const sum = (entries: readonly { units: number }[]) => entries.reduce((total, { units }) => total + units, 0)
  return [
    ...lines.filter(({ stock, entries }) => stock !== sum(entries)).map(({ id }) => id),
    ...supplies.filter(({ onHand, shelf }) => onHand !== sum(shelf)).map(({ id }) => id),
  ]
}
