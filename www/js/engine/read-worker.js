// The worker that owns the small package: what Read asks for.
import init, * as core from '../../pkg/read.js';
import { serve } from './serve.js';

serve(init, core);
