type Labelled = {
  batch: string | null
  phases: readonly { step: number | null }[]
}
type Steps = readonly { batch: { id: string }; steps: readonly { step: { station: string } }[] }[]

/**
 * Whether an activity is nothing but labels, which may be put on any day: closing and cleaning up do not wait for it.
 * Where packing is all that is done to a batch, as with fruit to eat fresh, that is its making and no labelling.
 */
export function isLabelling(batches: Steps, { batch, phases }: Labelled): boolean {
  const steps = batches.find((one) => one.batch.id === batch)?.steps ?? []
  const isLabel = (step: number | null) => step !== null && steps[step]?.step.station === 'label'
  return phases.length > 0 && phases.every(({ step }) => isLabel(step)) && steps.some((_, step) => !isLabel(step))
}
