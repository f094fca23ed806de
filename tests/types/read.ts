import type { Answer } from './answers';

// The kinds of answers are told apart by command and outcome, and what is in them is typed.
function asked(answer: Answer): number {
  if (answer.command === 'plan' && answer.outcome === 'planned') {
    const starts: number[] = Object.values(answer.plan.steps).map((step) => step.start);
    return Math.min(...starts);
  }
  if (answer.outcome === 'faults') {
    const codes: string[] = answer.faults.map((fault) => fault.code);
    return codes.length;
  }
  return answer.schema;
}

