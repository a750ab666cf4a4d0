/** The share still working at an age, read from steps in rising order of age; 1 before the first failure. */
export function survivalAt(steps: readonly { readonly age: number; readonly survival: number }[], age: number): number {
  return steps.findLast(step => step.age <= age)?.survival ?? 1
}
