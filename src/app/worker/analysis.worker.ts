import { expose } from 'comlink';
import { serveAnalysis } from './serve-analysis';

expose(serveAnalysis());
