/** What is known of every crop. */
export const cropsPath = (): string => '/crops'
export const cropPath = (key: string): string => `/crops/${key}`
