/** Who is in the co-op. */
export const peoplePath = (): string => '/people'
/** One member: role and household, an account, a new password. */
export const personPath = (id: string): string => `/people/${id}`
export const personInvitationPath = (id: string): string => `/people/${id}/invitation`
export const personResetPath = (id: string): string => `/people/${id}/reset`
export const leavingPath = (id: string): string => `/people/${id}/leaving`
export const householdsPath = (): string => '/people/households'
export const householdPath = (id: string): string => `/people/households/${id}`
/** Links that let somebody in, those for new passwords too. */
export const invitationsPath = (): string => '/people/invitations'
/** The page of one, with its link directly after it was made. */
export const invitationPath = (id: string): string => `/people/invitations/${id}`
export const invitationRemovalPath = (id: string): string => `/people/invitations/${id}/removal`
/** What whoever is invited opens. Whoever knows the secret may join. */
export const joinPath = (secret: string): string => `/join/${secret}`
/** What whoever needs a new password opens. */
export const resetPath = (secret: string): string => `/reset/${secret}`
