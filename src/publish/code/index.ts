export { emitPython, type PythonHelper } from './emit-python.ts';
export { writeCode } from './write-code.ts';
