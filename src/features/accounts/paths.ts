/** Where people sign in; `signInPath` of web/door.ts leads there from a page. */
export const doorPath = (): string => '/sign-in'
export const signOutPath = (): string => '/sign-out'
/** Entering the demonstration as one of its members. */
export const demonstrationPath = (): string => '/demonstration'
/** Founding a co-op by a code. */
export const setUpPath = (): string => '/set-up'
/** Whoever is signed in: name, password, devices. */
export const accountPath = (): string => '/account'
export const ownNamePath = (): string => '/account/name'
/** The names by which somebody signs in. */
export const signInNamesPath = (): string => '/account/sign-in-name'
export const passwordPath = (): string => '/account/password'
/** Ends one device's session. */
export const endDevicePath = (id: string): string => `/account/devices/${id}/end`
export const endOthersPath = (): string => '/account/devices/end-others'
export const signOutEverywherePath = (): string => '/account/sign-out-everywhere'
