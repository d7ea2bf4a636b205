import { z } from 'zod'
import { placeKinds } from '../../../core/shelf/index.ts'
import { choice, neededText, optionalText, type Typed } from '../../../web/forms.ts'
import type { Place } from './queries.ts'

export const placeForm = z.object({
  name: neededText('Enter a name, like “pantry at Mill Lane”', 80),
  kind: choice(placeKinds, 'Choose what kind of place it is'),
  householdId: optionalText(40),
})

/** The form's fields as they would be typed for this place. */
export function placeTyped({ name, kind, householdId, version }: Place): Typed {
  return { name, kind, householdId: householdId ?? '', version: String(version) }
}
