import { execFileSync } from 'node:child_process'
import { beforeAll, describe, expect, test } from 'vitest'
import {
  batchCode,
  divideLabel,
  fromPlace,
  type JarFacts,
  knownSheet,
  labelText,
  type Place,
  type PrinterOffset,
  quietModules,
  type SheetGeometry,
} from '../../../../src/core/labels/index.ts'
import {
  CharactersMissing,
  LabelsDoNotFit,
  labelSheet,
  type SheetLabel,
  type SheetOptions,
  testSheet,
} from '../../../../src/web/labels/index.ts'
import {
  type Area,
  darkRun,
  describePrinted,
  dotsPerMm,
  greyAt,
  type Page,
  rasterise,
  readCode,
  wordsOf,
} from './raster.ts'

const facts: SheetOptions = {
  title: 'Labels: Björk’s damson jam',
  lang: 'en',
  created: new Date('2026-09-14T10:00:00Z'),
}

const jar: JarFacts = {
  product: 'Damson jam',
  variety: 'Shropshire Prune',
  madeOn: '2026-09-14',
  bestBy: '2027-09-14',
  jar: { name: 'Pint jar', ml: 473.18 },
  batchCode: '',
  household: null,
  allergens: ['mustard'],
  cautions: [],
  shelfLife: 'shelf',
  useWithinDays: 5,
}
const longName =
  'Green tomato and courgette chutney with mustard seeds, sultanas and the last of the Worcester Pearmain apples'
const names = ['Damson jam', 'Žluťoučký rybíz', 'Μαρμελάδα σύκο', 'Варенье из смородины', longName]

const addressOf = (number: number) => `https://larkrise.example/jars/${batchCode(number)}`

function labelsOf(count: number): SheetLabel[] {
  return Array.from({ length: count }, (_, number) => {
    const facts = { ...jar, product: names[number % names.length] ?? '', batchCode: batchCode(number) }
    return { lines: labelText(facts, 'us'), qr: addressOf(number) }
  })
}

function known(name: string): SheetGeometry {
  const sheet = knownSheet(name)
  if (sheet === null) throw new Error(`no sheet ${name}`)
  return sheet.geometry
}

const rectangles = known('Letter, 3 x 10, 66.68 x 25.4 mm')
const circles = known('A4, 3 x 4, 60 mm round')
const smallCircles = known('A4, 4 x 6, 40 mm round')

/** A place in dots, with a millimetre around it where one can look for its edges. */
function areaOf({ x, y, width, height }: Place): Area {
  const dots = (length: number) => Math.round((length / 100) * dotsPerMm)
  return { x: dots(x), y: dots(y), width: dots(width), height: dots(height) }
}

/** How far a label's left and top edge, as printed, lie from where the geometry has them, in millimetres. */
function edgesOff(page: Page, place: Place): number[] {
  const [left, top] = [(place.x / 100) * dotsPerMm, (place.y / 100) * dotsPerMm]
  const middle = [top + ((place.height / 100) * dotsPerMm) / 2, left + ((place.width / 100) * dotsPerMm) / 2]
  return (['x', 'y'] as const).map((along, index) => {
    const edge = index === 0 ? left : top
    const run = darkRun(
      page,
      along,
      Math.round(middle[index] ?? 0),
      Math.round(edge - dotsPerMm),
      Math.round(edge + dotsPerMm),
    )
    return run === null ? Number.POSITIVE_INFINITY : Math.abs((run.from + run.to) / 2 - edge) / dotsPerMm
  })
}

/** Dark dots that lie on no label. */
function dotsOutside(page: Page, geometry: SheetGeometry, places: readonly Place[]): number {
  let outside = 0
  const boxes = places.map((place) => ({
    left: (place.x / 100) * dotsPerMm,
    top: (place.y / 100) * dotsPerMm,
    width: (place.width / 100) * dotsPerMm,
    height: (place.height / 100) * dotsPerMm,
  }))
  for (let y = 0; y < page.height; y++) {
    for (let x = 0; x < page.width; x++) {
      if (greyAt(page, x, y) > 200) continue
      const on = boxes.some(({ left, top, width, height }) =>
        geometry.label.shape === 'round'
          ? Math.hypot(x + 0.5 - left - width / 2, y + 0.5 - top - height / 2) <= width / 2
          : x >= left && x < left + width && y >= top && y < top + height,
      )
      if (!on) outside++
    }
  }
  return outside
}

describePrinted('a sheet of labels, as printed', () => {
  describe.each([
    { name: 'rectangles', geometry: rectangles, count: 30 },
    { name: 'circles', geometry: circles, count: 12 },
    { name: 'small circles', geometry: smallCircles, count: 24 },
  ])('$name', ({ geometry, count }) => {
    let pages: Page[]
    let words: string
    const placed = fromPlace(geometry, count)
    beforeAll(async () => {
      const pdf = await labelSheet(geometry, labelsOf(count), facts)
      pages = rasterise(pdf)
      words = wordsOf(pdf)
    })

    test('have every code read by an independent reader, its finder pattern within 0.3 mm of its place', () => {
      expect(pages.length).toBe(1)
      const [page] = pages
      const off: number[] = []
      const read = placed.filter(({ place }, number) => {
        const code = page === undefined ? null : readCode(page, areaOf(place))
        const box = divideLabel(geometry.label, 29)?.code
        if (code === null || !box) return false
        const middle = (quietModules + 3.5) * box.moduleMm
        off.push(
          Math.abs(code.finder.x / dotsPerMm - place.x / 100 - box.box.x - middle),
          Math.abs(code.finder.y / dotsPerMm - place.y / 100 - box.box.y - middle),
        )
        return code.text === addressOf(number)
      })
      expect(read.length).toBe(count)
      expect(Math.max(...off)).toBeLessThan(0.3)
    })

    test('have not one dot outside', () => {
      expect(
        pages.map((page) =>
          dotsOutside(
            page,
            geometry,
            placed.map(({ place }) => place),
          ),
        ),
      ).toEqual([0])
    })

    test('say what they must, in all three alphabets and with their marks', () => {
      const flat = words.normalize('NFC').replace(/\s+/g, ' ')
      const firstWords = ['Damson jam', 'Žluťoučký', 'Μαρμελάδα', 'Варенье', 'Green']
      for (const expected of [
        ...firstWords,
        'Contains: mustard',
        'Best by 14 Sep 2027',
        'Made 14 Sep 2026',
        `Batch ${batchCode(0)}`,
      ])
        expect(flat).toContain(expected)
      expect(flat.match(/Contains: mustard/g)?.length).toBe(count)
      expect(flat.match(/Batch [2-9A-Z]{5}/g)?.length).toBe(count)
    })
  })

  test.each([
    { name: 'rectangles', geometry: rectangles, offset: { dx: 0, dy: 0 } },
    { name: 'circles', geometry: circles, offset: { dx: 0, dy: 0 } },
    { name: 'rectangles moved by the printer’s offset', geometry: rectangles, offset: { dx: 130, dy: -210 } },
  ])('has edges within 0.3 mm of the geometry: $name', async ({ geometry, offset }) => {
    const count = geometry.columns * geometry.rows
    const [page] = rasterise(await labelSheet(geometry, labelsOf(count), { ...facts, offset, outlines: true }))
    if (page === undefined) throw new Error('no page')
    const off = fromPlace(geometry, count, 1, offset).flatMap(({ place }) => edgesOff(page, place))
    expect(off.length).toBe(2 * count)
    expect(Math.max(...off)).toBeLessThan(0.3)
  })

  test('begins at any free label, leaves the ones before it bare and goes on on a second page', async () => {
    const pages = rasterise(await labelSheet(circles, labelsOf(4), { ...facts, startAt: 11 }))
    const read = pages.map((page) =>
      fromPlace(circles, 12).flatMap(({ place }) => {
        const code = readCode(page, areaOf(place))
        return code === null ? [] : [[place.number, code.text]]
      }),
    )
    expect(read).toEqual([
      [
        [11, addressOf(0)],
        [12, addressOf(1)],
      ],
      [
        [1, addressOf(2)],
        [2, addressOf(3)],
      ],
    ])
    const used = [11, 12]
    const [first] = pages
    if (first === undefined) throw new Error('no page')
    const places = fromPlace(circles, 12).map(({ place }) => place)
    expect(
      dotsOutside(
        first,
        circles,
        places.filter(({ number }) => used.includes(number)),
      ),
    ).toBe(0)
  })

  test('carries its title and its fonts, only the letters it uses', async () => {
    const pdf = await labelSheet(rectangles, labelsOf(30), facts)
    const about = execFileSync('pdfinfo', ['-'], { input: pdf, encoding: 'utf8' })
    expect(about).toMatch(/Title: +Labels: Björk’s damson jam\n/)
    expect(about).toMatch(/Page size: +612 x 792 pts/)
    const fonts = execFileSync('pdffonts', ['-'], { input: pdf, encoding: 'utf8' }).trim().split('\n').slice(2)
    expect(fonts.length).toBe(2)
    for (const font of fonts) expect(font).toMatch(/^[A-Z]{6}\+DejaVuSansCondensed.*\byes yes yes\b/)
    expect(pdf.length).toBeLessThan(80_000)
  })

  test('test page: every edge where it belongs, and rulers true to the millimetre', async () => {
    for (const [geometry, offset] of [
      [rectangles, { dx: 0, dy: 0 }],
      [circles, { dx: -50, dy: 80 }],
    ] as [SheetGeometry, PrinterOffset][]) {
      const [page] = rasterise(await testSheet(geometry, { ...facts, offset }))
      if (page === undefined) throw new Error('no page')
      const count = geometry.columns * geometry.rows
      const places = fromPlace(geometry, count, 1, offset).map(({ place }) => place)
      expect(Math.max(...places.flatMap((place) => edgesOff(page, place)))).toBeLessThan(0.3)
      expectRuler(
        page,
        places.find(({ row, column }) => column === 2 && row === Math.ceil(geometry.rows / 2)),
      )
    }
  })
})

/** Ticks of every 10 mm along the ruler that goes right through a label's middle, just below its line. */
function expectRuler(page: Page, place: Place | undefined): void {
  if (place === undefined) throw new Error('no label in the middle')
  const row = Math.round((place.y / 100 + place.height / 200 + 2.5) * dotsPerMm)
  for (let mm = -10; mm <= 100; mm += 10) {
    const tick = (place.x / 100 + mm) * dotsPerMm
    const run = darkRun(page, 'x', row, Math.round(tick - 4), Math.round(tick + 4))
    expect(run, `tick at ${mm} mm`).not.toBeNull()
    if (run !== null) expect(Math.abs((run.from + run.to) / 2 - tick) / dotsPerMm).toBeLessThan(0.15)
  }
}

describe('a file of labels', () => {
  test('is the same to the byte for the same labels at the same time, and tells its language', async () => {
    const [one, other] = [await labelSheet(circles, labelsOf(3), facts), await labelSheet(circles, labelsOf(3), facts)]
    expect(one.equals(other)).toBe(true)
    expect(one.toString('latin1')).toContain('/Lang (en)')
    const later = await labelSheet(circles, labelsOf(3), { ...facts, created: new Date('2026-09-15T10:00:00Z') })
    expect(later.equals(one)).toBe(false)
  })

  test('is not made when a label has no room for what it must say, and names them all', async () => {
    const tiny: SheetGeometry = { ...rectangles, label: { shape: 'rectangle', width: 2600, height: 2540, corner: 0 } }
    const narrow: SheetGeometry = { ...rectangles, label: { shape: 'rectangle', width: 3600, height: 1800, corner: 0 } }
    await expect(labelSheet(tiny, labelsOf(2), facts)).rejects.toMatchObject({
      misfits: [
        { label: 0, noRoomFor: 'code' },
        { label: 1, noRoomFor: 'code' },
      ],
    })
    const wordy = {
      lines: labelText({ ...jar, batchCode: '7KQ4M', cautions: ['Contains stones. '.repeat(20)] }, 'us'),
      qr: addressOf(1),
    }
    const brief = {
      lines: labelText({ ...jar, batchCode: '7KQ4M', allergens: [], shelfLife: 'dried', useWithinDays: null }, 'us'),
      qr: null,
    }
    const refused = labelSheet(narrow, [brief, wordy], facts)
    await expect(refused).rejects.toThrow(LabelsDoNotFit)
    await expect(refused).rejects.toMatchObject({ misfits: [{ label: 1, noRoomFor: 'words' }] })
  })

  test('is not made when letters are missing, and names them with their labels; what is never seen is not missed', async () => {
    const named = (product: string, household: string | null = null) => ({
      lines: labelText({ ...jar, product, household, batchCode: '7KQ4M' }, 'metric'),
      qr: null,
    })
    const labels = [named('Damson 🍑🍑 jam'), named('Žluťoučký rybíz, 40 °C'), named('Plum jam', '李さん')]
    await expect(labelSheet(circles, labels, facts)).rejects.toThrow(CharactersMissing)
    await expect(labelSheet(circles, labels, facts)).rejects.toMatchObject({
      labels: [
        { label: 0, characters: ['🍑'] },
        { label: 2, characters: ['李', 'さ', 'ん'] },
      ],
    })
    await expect(labelSheet(circles, [named('Plum\u200d jam\ufe0f')], facts)).resolves.toBeInstanceOf(Buffer)
  })

  test('is not made on a sheet that cannot be, from a place that is not there, or for an address no code can hold', async () => {
    const [label] = labelsOf(1)
    if (label === undefined) throw new Error('no label')
    await expect(labelSheet({ ...rectangles, columns: 4 }, [label], facts)).rejects.toThrow('columns beyond-paper')
    await expect(labelSheet(rectangles, [label], { ...facts, startAt: 31 })).rejects.toThrow('places 1 to 30')
    for (const qr of ['', 'x'.repeat(301)])
      await expect(labelSheet(rectangles, [{ ...label, qr }], facts)).rejects.toThrow(RangeError)
  })

  test('of many labels lets other work go on meanwhile', async () => {
    let turns = 0
    const timer = setInterval(() => turns++, 1)
    await labelSheet(circles, labelsOf(60), facts)
    clearInterval(timer)
    expect(turns).toBeGreaterThan(10)
  })

  test('without labels is one bare page, and without codes has words alone', async () => {
    expect((await labelSheet(circles, [], facts)).toString('latin1').match(/\/Type \/Page\b/g)?.length).toBe(1)
    const plain = await labelSheet(
      circles,
      labelsOf(2).map((label) => ({ ...label, qr: null })),
      facts,
    )
    expect(plain.length).toBeGreaterThan(5000)
  })
})
