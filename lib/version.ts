/** The version of the program, as `package.json` has it: it stands in what the program files. */
export const programVersion = '0.1.0';
