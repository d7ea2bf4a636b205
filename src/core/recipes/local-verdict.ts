import type { LocalProcess } from '../process/local.ts'
import type { JarSize, ProcessMethod } from '../process/types.ts'
import type { CanningMethod } from './canned.ts'
import { departure, minutes } from './departures.ts'
import type { Pack, ProcessClaim } from './recipe.ts'
import type { Departure, KitchenPlace, PackVerdict } from './verdict-types.ts'

/** Which processes a method of ours can be heated by. */
const methodsOf: Record<CanningMethod, readonly ProcessMethod[]> = {
  'water-bath-canned': ['boiling-water', 'steam'],
  'pressure-canned': ['dial-gauge', 'weighted-gauge'],
}

/**
 * A pack that claims a process which the co-op noted from a local authority: it must stand, and cover the altitude, the
 * jar, the pack and the way of heating. What goes in is not compared, as the note has no proportions.
 */
export function onLocal(
  method: CanningMethod,
  claim: ProcessClaim,
  id: string,
  pack: Pack & { jar: JarSize },
  at: string,
  place: KitchenPlace,
): Pick<PackVerdict, 'standing' | 'local' | 'departures' | 'shelfStable'> {
  const local = place.local.find((one) => one.id === id) ?? null
  const departures =
    local === null
      ? [
          departure(
            'local-elsewhere',
            'process',
            'The process it claims is not among those that the co-op noted.',
            null,
          ),
        ]
      : [...covers(local, method, claim, pack, at, place), ...states(local, claim)]
  const follows = departures.length === 0
  return { standing: follows ? 'local' : 'departs', local, departures, shelfStable: follows }
}

function covers(
  local: LocalProcess,
  method: CanningMethod,
  claim: ProcessClaim,
  { jar }: { jar: JarSize },
  at: string,
  { altitudeM, gauges }: KitchenPlace,
): Departure[] {
  const found: Departure[] = []
  const elsewhere = (where: string, says: string) => found.push(departure('local-elsewhere', where, says, null))
  if (local.withdrawn) elsewhere('process', `“${local.product}” was withdrawn: it is no longer relied on.`)
  if (altitudeM === null) {
    const says = 'Nobody has said how high the kitchen lies, and times and pressures depend on it.'
    found.push(departure('altitude-unknown', '', says, null))
  } else if (altitudeM < local.fromM || altitudeM > local.toM) {
    elsewhere('', `It was noted for ${local.fromM} to ${local.toM} m; the kitchen lies at ${Math.round(altitudeM)} m.`)
  }
  if (!local.jars.includes(jar)) elsewhere(at, `It was noted for ${local.jars.join(', ')} jars, not for ${jar} jars.`)
  if (local.pack !== claim.pack)
    elsewhere('process', `It was noted for a ${local.pack} pack, not for a ${claim.pack} one.`)
  if (!methodsOf[method].includes(local.method)) {
    elsewhere(
      'process',
      `It was noted for ${local.method.replace('-', ' ')}, not for a recipe that is ${method.replace('-', ' ')}.`,
    )
  } else if (method === 'pressure-canned' && !gauges.some((gauge) => local.method === `${gauge}-gauge`)) {
    const says = `It was noted for a ${local.method.replace('-', ' ')}, and no canner with one is at hand.`
    found.push(departure('gauge-missing', '', says, null))
  }
  return found
}

function states(local: LocalProcess, claim: ProcessClaim): Departure[] {
  const found: Departure[] = []
  if (claim.minutes !== null && claim.minutes < local.minutes) {
    const says = `It states ${minutes(claim.minutes)}; the noted process has ${minutes(local.minutes)}.`
    found.push(departure('shorter-time', 'process', says, null))
  }
  if (claim.headspaceMm !== null && claim.headspaceMm < local.headspaceMm) {
    const says = `It leaves ${claim.headspaceMm} mm of headspace; the noted process has ${local.headspaceMm} mm.`
    found.push(departure('less-headspace', 'process', says, null))
  }
  return found
}
