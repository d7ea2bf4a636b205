/** What finished batches taught about yields, trim and minutes. */
export const yieldsPath = (): string => '/yields'
