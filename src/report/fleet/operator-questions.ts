/** What a board is to ask whoever runs its roofs. Common practice, no source. */
export const OPERATOR_QUESTIONS: readonly string[] = [
  'Which units were replaced so far, on which day, and who paid?',
  'Who notices that a roof has stopped, and within how many days does somebody come?',
  'Which models are no longer sold, and what fits in their place?',
  'Which warranties are still in force, where are the papers, and what do they leave to us?',
  'Which ages and models were read on the roof, and which are only from a list?',
]
