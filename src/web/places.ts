import type { Asking } from './asking.ts'

/** The places of the service. */
export const places = ['today', 'produce', 'plans', 'shelf', 'coop'] as const
export type Place = (typeof places)[number]

export type PlaceLink = { href: string; text: string; current: boolean }

/** Where the co-op's name leads: Today, and on a kitchen screen to all that it shows. */
export function homeOf(asking: Asking | null): string {
  return asking?.role === 'screen' ? kitchen : '/'
}

/** The entries of the bar, the current one marked. At the door there is none; a kitchen screen has the kitchen alone. */
export function placesOf(current: Place | null, asking: Asking | null): PlaceLink[] {
  if (asking === null) return []
  if (asking.role === 'screen') return [{ href: kitchen, text: 'Kitchen', current: true }]
  return bar.map(({ place, href, text }) => ({ href, text, current: place === current }))
}

const kitchen = '/kitchen'

const bar: readonly { place: Place; href: string; text: string }[] = [
  { place: 'today', href: '/', text: 'Today' },
  { place: 'produce', href: '/lots', text: 'Produce' },
  { place: 'plans', href: '/plans', text: 'Plans' },
  { place: 'shelf', href: '/shelf', text: 'Shelf' },
  { place: 'coop', href: '/coop', text: 'Co-op' },
]
