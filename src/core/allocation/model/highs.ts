import highsModule, { type Highs, type HighsCallbackMap, type Model } from 'highs'
import { type BuiltModel, modelData } from './builder.ts'

export type MipOptions = {
  /** Seconds; infinite: none. */
  timeLimitS: number
  /** Relative gap at which to stop. */
  gap: number
  maxNodes: number
  /**
   * Whether HiGHS may search neighbourhoods of the relaxation (RENS and by reduced costs): it finds more in large models,
   * and costs small ones a third of their time.
   */
  searchNearRelaxation: boolean
  /** Whole columns of a known division to start from: numbers and values. */
  start: { indices: number[]; values: number[] } | null
  shouldStop: () => boolean
  /** A better point was found: all columns, and the bound then (both in the model's scale). */
  onBetter: (point: Float64Array, bound: number) => void
  /** Looked in, with or without news. */
  onLook: (value: number, bound: number) => void
}

export type MipAnswer = {
  /** `optimal` includes: within the asked gap. */
  ended: 'optimal' | 'limit' | 'stopped' | 'infeasible'
  point: Float64Array | null
  value: number
  bound: number
  nodes: number
  seconds: number
}

// The package's types are those of its CommonJS build; what Node imports is the ES build, whose default is the loader itself.
const loadHighs = highsModule as unknown as typeof highsModule.default

let runtime: Promise<Highs> | null = null

/** The solver's runtime, loaded once for each thread. */
export function highsRuntime(): Promise<Highs> {
  runtime ??= loadHighs().catch((error: unknown) => {
    // The next solve tries again instead of failing for good.
    runtime = null
    throw error
  })
  return runtime
}

/** Solves a mixed-integer programme. Blocks its thread. Throws what HiGHS throws; infeasible is an answer. */
export function solveMip(highs: Highs, built: BuiltModel, options: MipOptions): MipAnswer {
  return highs.withModel(modelData(built, highs.constants.objectiveSense.maximize), (model: Model) => {
    model.options.set({
      output_flag: false,
      random_seed: 0,
      mip_rel_gap: options.gap,
      mip_abs_gap: 1e-9,
      mip_heuristic_run_rens: options.searchNearRelaxation,
      mip_heuristic_run_root_reduced_cost: options.searchNearRelaxation,
      mip_max_nodes: Math.min(options.maxNodes, 2_000_000_000),
      ...(Number.isFinite(options.timeLimitS) ? { time_limit: Math.max(0.01, options.timeLimitS) } : {}),
    })
    if (options.start) model.setSolution(options.start)
    let stopped = false
    const { callbackType, modelStatus } = highs.constants
    const lookUp = (event: { interrupt(): void }): undefined => {
      if (!stopped && !options.shouldStop()) return
      stopped = true
      event.interrupt()
    }
    const callbacks: HighsCallbackMap = {
      // The first relaxation and the start's own can take longer than the search between two of its looks.
      [callbackType.simplexInterrupt]: lookUp,
      [callbackType.mipImprovingSolution]: (event) => {
        const point = event.data.mip_solution
        if (point) options.onBetter(point, event.data.mip_dual_bound ?? Number.POSITIVE_INFINITY)
      },
      [callbackType.mipInterrupt]: (event) => {
        const { mip_primal_bound: value, mip_dual_bound: bound } = event.data
        options.onLook(value ?? Number.NEGATIVE_INFINITY, bound ?? Number.POSITIVE_INFINITY)
        lookUp(event)
      },
    }
    const { modelStatus: code } = model.run(callbacks)
    const feasible = Number(model.info.get('primal_solution_status')) === highs.constants.solutionStatus.feasible
    // Without whole columns HiGHS solves a plain linear programme and says nothing of a bound: its value is the bound.
    const isLinear = !built.whole.includes(1)
    const bound = isLinear && feasible ? model.getObjectiveValue() : Number(model.info.get('mip_dual_bound'))
    const ended: MipAnswer['ended'] =
      code === modelStatus.optimal
        ? 'optimal'
        : code === modelStatus.infeasible
          ? 'infeasible'
          : stopped
            ? 'stopped'
            : 'limit'
    return {
      ended,
      point: feasible ? model.getSolution().colValue : null,
      value: feasible ? model.getObjectiveValue() : Number.NEGATIVE_INFINITY,
      bound: Number.isFinite(bound) ? bound : Number.POSITIVE_INFINITY,
      nodes: Number(model.info.get('mip_node_count')),
      seconds: model.getRunTime(),
    }
  })
}

/** The relaxation without whole numbers: its value, its point and the duals of the rows. */
export function solveRelaxation(
  highs: Highs,
  built: BuiltModel,
): { value: number; point: Float64Array; rowDuals: Float64Array } | null {
  const relaxed = { ...built, whole: new Int32Array(built.columns) }
  return highs.withModel(modelData(relaxed, highs.constants.objectiveSense.maximize), (model: Model) => {
    model.options.set({ output_flag: false, random_seed: 0 })
    const { modelStatus } = model.run()
    if (modelStatus !== highs.constants.modelStatus.optimal) return null
    const solution = model.getSolution()
    return { value: model.getObjectiveValue(), point: solution.colValue, rowDuals: solution.rowDual }
  })
}
