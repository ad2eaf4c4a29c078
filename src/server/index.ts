export { openEntryStore, prepareLesson, type RunningLesson, startLesson } from './lesson/index.ts';
export { type RunningServer, type ServerOptions, startServer } from './start-server.ts';
