import { type Jar, jars, jarsThatFit, waterAboveMm } from '../../core/process/jars.ts'
import type { CoopWays } from '../../web/asking.ts'
import { formatFor } from '../../web/format.ts'
import { jarWords } from '../processes/index.ts'
import { cannerKinds } from './forms.ts'
import type { Equipment } from './queries.ts'

/** Which jars stand in a canner; `rows` empty where its measures are not known or nothing stands in it. */
export type FitPage = {
  sentence: string
  rows: { jar: string; load: string; layers: string; longer: string }[]
  /** A column for processes above 30 minutes, which need more water over the lids. */
  boils: boolean
}

/** Null for what is no canner, and for one whose inside nobody measured. */
export function fitPage(of: Equipment, coop: CoopWays): FitPage | null {
  const fits = jars.flatMap((jar) => {
    const short = countIn(of, jar, 30)
    return short === null ? [] : [{ jar, short, longer: countIn(of, jar, 31) ?? 0 }]
  })
  if (fits.length === 0) return null
  const format = formatFor(coop)
  const count = (many: number) => (many === 0 ? 'none' : format.number(many))
  const rows = fits
    .filter(({ short }) => short > 0)
    .map(({ jar, short, longer }) => ({
      jar: jarName(jar),
      load: count(short),
      layers: short > layerIn(of, jar) ? 'two' : 'one',
      longer: count(longer),
    }))
  return {
    sentence:
      rows.length === 0
        ? 'By these measures no jar stands in it with room for what must be over it.'
        : 'Worked out from these measures and usual jars; a rack or the maker’s own figure may allow fewer, and then it counts.',
    rows,
    boils: of.kind === 'canner',
  }
}

/** Jars in one load for a process of so many minutes; null where that cannot be told. */
function countIn(of: Equipment, jar: Jar, minutes: number): number | null {
  const { kind, insideWidthMm, insideHeightMm } = of
  if (insideWidthMm === null || insideHeightMm === null) return null
  const kettle = { insideWidthMm, insideHeightMm }
  // half-gallons have published times in boiling water alone, for very acid juices
  if (jar.size === 'half-gallon' && kind !== 'canner') return cannerKinds.includes(kind) ? 0 : null
  switch (kind) {
    case 'canner':
      return jarsThatFit(kettle, jar, { waterAboveMm: waterAboveMm(minutes) }).jars
    case 'pressure-canner':
      return jarsThatFit(kettle, jar, noWater).jars
    // measured from the plate upwards, and one layer only: nobody publishes two
    case 'steam-canner': {
      const { layers, perLayer } = jarsThatFit(kettle, jar, { ...noWater, rackMm: 0 })
      return layers === 0 ? 0 : perLayer
    }
    default:
      return null
  }
}

function layerIn({ insideWidthMm, insideHeightMm }: Equipment, jar: Jar): number {
  if (insideWidthMm === null || insideHeightMm === null) return 0
  return jarsThatFit({ insideWidthMm, insideHeightMm }, jar, noWater).perLayer
}

/** Nothing boils over the lids where steam does the work. */
const noWater = { waterAboveMm: 0, boilingRoomMm: 0 } as const

function jarName({ size, mouth }: Jar): string {
  const bothMouths = jars.filter((one) => one.size === size).length > 1
  return bothMouths ? `${jarWords[size].more}, ${mouth} mouth` : jarWords[size].more
}
