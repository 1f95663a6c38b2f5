// The worker that owns the whole package.
import init, * as core from '../../pkg/leaveline.js';
import { serve } from './serve.js';

serve(init, core);
