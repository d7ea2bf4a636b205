/**
 * The places of the service. The shelf has no entry in the bar until there is something on it: an empty place would
 * only take room from the thumb.
 */
export const places = ['today', 'produce', 'plans', 'shelf', 'coop'] as const
export type Place = (typeof places)[number]

export type PlaceLink = { href: string; text: string; current: boolean }

/** The entries of the bar, the current one marked. */
export function placesOf(current: Place | null): PlaceLink[] {
  return bar.map(({ place, href, text }) => ({ href, text, current: place === current }))
}

const bar: readonly { place: Place; href: string; text: string }[] = [
  { place: 'today', href: '/', text: 'Today' },
  { place: 'produce', href: '/lots', text: 'Produce' },
  { place: 'plans', href: '/plans', text: 'Plans' },
  { place: 'coop', href: '/coop', text: 'Co-op' },
]
