import type { Method } from '../produce/vocabulary.ts'

/** Methods that heat a closed jar. */
export type CanningMethod = 'water-bath-canned' | 'pressure-canned'

export function isCanned(method: Method): method is CanningMethod {
  return method === 'water-bath-canned' || method === 'pressure-canned'
}
