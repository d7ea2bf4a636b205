import type { LotSource, RipenessClass, Storage } from '../../core/produce/index.ts'
import type { SortingPart, SortingWay } from './lot.ts'
import { knownCrop } from './standing.ts'

/** "damsons (hedge damson)" */
export function lotName({ crop, variety }: { crop: string; variety: string | null }): string {
  const { plural } = knownCrop(crop)
  return variety === null ? plural : `${plural} (${variety})`
}

/** "Damsons (hedge damson)" */
export function lotTitle(lot: { crop: string; variety: string | null }): string {
  return capital(lotName(lot))
}

export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1)
}

export const classWords: Record<RipenessClass, { name: string; says: string }> = {
  firm: { name: 'firm', says: 'not ripe yet' },
  ripe: { name: 'ripe', says: 'ready to use' },
  soft: { name: 'soft', says: 'use very soon' },
  damaged: { name: 'damaged', says: 'sound once trimmed' },
}

export const storageWords: Record<Storage, { name: string; says: string; where: string }> = {
  room: { name: 'room', says: 'kitchen or porch', where: 'at room temperature' },
  cool: { name: 'cool', says: 'cellar', where: 'in the cool' },
  cold: { name: 'cold', says: 'refrigerator or cold room', where: 'in the cold' },
}

export const sourceWords: Record<LotSource, string> = {
  donated: 'donated',
  bought: 'bought',
  'own-trees': 'from own trees or garden',
  gleaned: 'gleaned',
}

export const partWords: Record<SortingPart, string> = {
  firm: 'Firm',
  ripe: 'Ripe',
  soft: 'Soft',
  damaged: 'Damaged, sound once trimmed',
  setAside: 'Set aside now, to eat fresh',
  lost: 'Thrown out now',
}

export const wayWords: Record<SortingWay, string> = {
  arrival: 'came in',
  corrected: 'weight corrected',
  weights: 'sorted by weight',
  shares: 'sorted by share',
  moved: 'moved: forecast set down',
  used: 'used in a batch',
  'taken-back': 'last sorting taken back',
}
