import type { AllocationProblem, Item, Product, ProductInput, Run } from '../../../src/core/allocation/index.ts'
import type { RipenessClass } from '../../../src/core/produce/vocabulary.ts'
import { chance } from '../../benchmarks/plain-glut.ts'

const classes: RipenessClass[] = ['firm', 'ripe', 'soft', 'damaged']

/**
 * A made-up problem with everything a problem can have: materials by trim and by making, fixed and free shares, days
 * apart, items that come in late or are lost, rooms, packs, a budget, closed and limited outlets, skills that overlap.
 * The same seed gives the same problem; `size` 1 to 4.
 */
export function randomProblem(seed: number, size: number): AllocationProblem {
  const random = chance(seed)
  const whole = (low: number, high: number) => low + Math.floor(random() * (high - low + 1))
  const yes = (likely: number) => random() < likely
  const oneOf = <T>(list: readonly T[]): T => list[whole(0, list.length - 1)] as T
  const some = <T>(list: readonly T[], likely: number) => list.filter(() => yes(likely))

  const dayCount = whole(1, Math.min(3, size))
  const crops = ['apples', 'damsons', 'tomatoes'].slice(0, whole(1, Math.min(3, size)))
  const days: string[] = []
  for (let d = 0, date = 0; d < dayCount; d++, date += whole(1, 2))
    days.push(`2026-09-${String(4 + date).padStart(2, '0')}`)
  const items: Item[] = Array.from({ length: whole(1, size + 1) }, (_, i) => {
    let stage = whole(0, 3)
    const comesIn = yes(0.15) ? whole(0, dayCount) : 0
    const classByDay = days.map((_, day) => {
      if (day > 0 && yes(0.4)) stage++
      return day < comesIn ? null : (classes[stage] ?? null)
    })
    return {
      id: `item-${i}`,
      lotId: `lot-${Math.floor(i / 2)}`,
      crop: oneOf(crops),
      grams: yes(0.3) ? whole(300, 6000) : whole(3, 60) * 100,
      classByDay,
      usableUntil: `2026-09-${String(whole(5, 20)).padStart(2, '0')}`,
      keepWorthPerKg: yes(0.2) ? whole(0, 60) : null,
    }
  })
  const materials: AllocationProblem['materials'] = yes(0.75)
    ? [
        { id: 'peels', name: 'Peels', kind: 'trim', readyAfterDays: 0, keepsDays: whole(0, 2) },
        { id: 'juice', name: 'Juice', kind: 'intermediate', readyAfterDays: whole(0, 1), keepsDays: whole(1, 3) },
      ]
    : []
  const machines = ['canner', 'oven'].slice(0, whole(0, 2)).map((id) => ({
    id,
    name: id,
    count: 1,
    minutesByDay: days.map(() => whole(0, 12) * 15),
  }))
  const skills = ['wash', 'cut', 'stove']
  const workers = Array.from({ length: whole(0, 3) }, (_, w) => ({
    id: `worker-${w}`,
    name: `Worker ${w}`,
    skills: some(skills, 0.6),
    minutesByDay: days.map(() => whole(0, 8) * 10),
  }))
  const rooms = yes(0.4) ? [{ id: 'freezer', name: 'Freezer', ml: whole(0, 8) * 1000 }] : []
  const supplies = ['jars', 'sugar'].slice(0, whole(0, 2)).map((id) => ({
    id,
    name: id,
    unit: 'piece',
    onHand: whole(0, 3),
    packSize: whole(1, 6),
    packPrice: whole(0, 200),
    packsAtMost: whole(0, 3),
  }))
  const makes = (p: number) => materials.length > 0 && p === 0
  const products = Array.from({ length: whole(1, size + 1) }, (_, p) => productOf(p))
  let worth = whole(0, 40)
  const outlets = Array.from({ length: whole(0, 3) }, (_, o) => {
    worth = whole(0, worth)
    return {
      id: oneOf(['a', 'b', 'c']) + o,
      name: `Outlet ${o}`,
      capacityGrams: yes(0.3) ? null : yes(0.3) ? 0 : whole(100, 5000),
      worthPerKg: worth,
      takesProduce: yes(0.8) ? { crops: yes(0.5) ? [] : some(crops, 0.6), classes: some(classes, 0.7) } : null,
      takesMaterials: some(materials, 0.6).map(({ id }) => id),
    }
  })
  return {
    days,
    items,
    materials,
    products,
    machines,
    workers,
    rooms,
    supplies,
    outlets,
    budget: yes(0.4) ? whole(0, 300) : null,
    spoilagePerKg: whole(0, 100),
  }

  function productOf(p: number): Product {
    const gramsPerUnit = (p === 0 ? whole(3, 10) : whole(2, 8)) * 100
    const about = p === 0 ? whole(2, 6) : whole(0, 6)
    const atMost = about + whole(0, 4)
    const wishWorth = p === 0 ? whole(50, 600) : whole(100, 900)
    return {
      id: `product-${p}`,
      name: `Product ${p}`,
      unit: 'jar',
      gramsPerUnit,
      inputs: inputsOf(p),
      makes: makes(p) ? [{ materialId: 'juice', gramsPerUnit: Math.round(gramsPerUnit * 0.5) }] : [],
      runs: yes(p === 0 ? 0.2 : 0.5) ? runsOf() : [],
      workPerKg: yes(0.5) && workers.length > 0 ? { [oneOf(skills)]: whole(1, 12), wash: whole(0, 3) } : {},
      workPerUnit: yes(0.3) && workers.length > 0 ? { [oneOf(skills)]: whole(1, 8) } : {},
      machineMinutesPerUnit: yes(0.3) && machines.length > 0 ? { [oneOf(machines).id]: whole(1, 20) } : {},
      supplies: yes(0.65) ? Object.fromEntries(supplies.map(({ id }) => [id, whole(1, 2)])) : {},
      roomMlPerUnit: rooms.length > 0 && yes(0.5) ? { freezer: whole(5, 15) * 100 } : {},
      onDays: p > 0 && yes(0.2) ? days.map((_, day) => day).filter(() => yes(0.7)) : null,
      wish: {
        atLeast: yes(0.4) ? whole(0, atMost) : 0,
        about,
        atMost,
        worth: wishWorth,
        worthBeyond: whole(0, wishWorth),
        shortfallWorth: whole(0, 300),
      },
    }
  }

  function inputsOf(p: number): ProductInput[] {
    const [first, second] = crops
    const peels = materials.length > 0 ? [{ materialId: 'peels', share: whole(0, 6) * 0.05 }] : []
    if (peels.length > 0 && yes(0.3)) Object.assign(peels[0] ?? {}, { shareByClass: { soft: 0.4, damaged: 0.5 } })
    const crop = (name: string, min: number, max: number): ProductInput => ({
      from: { crop: name },
      suits: Object.fromEntries(some(classes, 0.75).map((name) => [name, yes(0.5) ? 1 : whole(3, 9) / 10])),
      share: { min, max },
      trim: peels,
    })
    const material = (materialId: string, min: number, max: number): ProductInput => ({
      from: { materialId },
      suits: {},
      share: { min, max },
      trim: [],
    })
    const fixed = oneOf([0.2, 0.5, 1 / 3, 0.75])
    if (materials.length > 0 && p > 0 && yes(0.65)) {
      const id = oneOf(['peels', 'juice'])
      if (yes(0.4)) return [material(id, 1, 1)]
      const part = oneOf([0.2, 0.5, 1 / 3])
      return yes(0.5)
        ? [material(id, part, part), { ...crop(oneOf(crops), 1 - part, 1 - part), trim: [] }]
        : [material(id, 0, part), { ...crop(oneOf(crops), 0.4, 1), trim: [] }]
    }
    if (first && second && yes(0.4)) {
      return yes(0.5)
        ? [crop(first, fixed, fixed), crop(second, 1 - fixed, 1 - fixed)]
        : [crop(first, 0.2, 0.7), crop(second, 0.1, 0.8)]
    }
    return [crop(oneOf(crops), 1, 1)]
  }

  function runsOf(): Run[] {
    const run = (name: string): Run => ({
      name,
      unitsPerRun: whole(1, 5),
      fillAtLeast: oneOf([0, 0.5, 1]),
      machineMinutes: machines.length > 0 ? { [oneOf(machines).id]: whole(1, 6) * 10 } : {},
      work: workers.length > 0 && yes(0.5) ? { [oneOf(skills)]: whole(1, 15) } : {},
    })
    return yes(0.3) ? [run('pot'), run('load')] : [run('load')]
  }
}
