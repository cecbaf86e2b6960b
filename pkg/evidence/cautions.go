package evidence

// cautionLead stands above the cautions.
const cautionLead = "This sheet gives advice only and commands no machine. Local rules, the machine maker’s instructions and the laser safety officer come first: where they differ from these lines, follow them."
