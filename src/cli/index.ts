export {
  answerSchemas,
  type BuildAnswer,
  type CheckAnswer,
  type CompareAnswer,
  type RoutesAnswer,
  type SolveAnswer,
  type TruthAnswer,
} from './answer-schemas.ts';
export { buildAnswer, checkAnswer, routesAnswer, solveAnswer, truthAnswer } from './answers.ts';
export { compareAnswer } from './compare-answer.ts';
export type { Io } from './io.ts';
export { thisMachine } from './machine.ts';
export { run } from './run.ts';
