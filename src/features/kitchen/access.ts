import { mayBeThere } from '../../web/roles.ts'

/** Seeing the work of the day and ticking it off: everybody in the kitchen, the screen on its wall as well. */
export const mayTick = mayBeThere
