/** The first page: what needs us now. */
export const homePath = (): string => '/'
