export { english as german } from './english.ts';
