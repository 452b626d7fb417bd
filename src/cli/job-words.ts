// cli: the options of `faultglow job …`, as they were given.
import type { ReadingFigures } from "../readings/classify-readings.js";
import type { Audience } from "../report/job-report-model.js";
import type { ConditionWords } from "./attempt-words.js";
import type { FrameWords } from "./frame-options.js";

/** What every command of a job takes. */
export interface JobWords {
  readonly json?: boolean;
  readonly quiet?: boolean;
}

/** What every command that adds to a job takes. */
export interface JobSayWords extends JobWords {
  readonly at?: string;
  readonly remark?: string;
}

/** What `job new` takes. */
export interface JobNewWords extends JobSayWords {
  readonly device: string;
  readonly complaint?: string;
  readonly board?: readonly string[];
  readonly symptom?: string;
  readonly restartsAfter?: number;
  readonly draws?: number;
  readonly connected?: readonly string[];
}

/** What `job attempt` takes. */
export interface JobAttemptWords extends FrameWords, ConditionWords, JobSayWords {
  readonly viewFrom?: number;
}

/** What `job reading` takes; values as they were typed. */
export interface JobReadingWords extends JobSayWords {
  readonly board?: string;
  readonly net?: string;
  readonly ref?: string;
  readonly pin?: string;
  readonly diode?: string;
  readonly resistance?: string;
  readonly voltage?: string;
  readonly current?: string;
  readonly reference?: boolean;
  readonly source?: string;
  readonly lowByNature?: boolean;
  readonly table?: string;
}

/** What `job action` takes; true where no part was named. */
export interface JobActionWords extends JobSayWords {
  readonly lifted?: readonly string[];
  readonly replaced?: readonly string[];
  readonly reflowed?: readonly string[];
  readonly cleaned?: readonly string[] | true;
  readonly shieldOff?: readonly string[] | true;
  readonly shieldOn?: readonly string[] | true;
  readonly boardsSplit?: true;
  readonly boardsJoined?: true;
  readonly other?: readonly string[] | true;
  readonly board?: string;
}

/** What `job withdraw` takes. */
export interface JobWithdrawWords extends JobWords {
  readonly reason: string;
}

/** What commands that weigh the evidence take. */
export interface JobWeighWords extends JobWords {
  readonly withoutReadings?: boolean;
  readonly tolerance?: ReadingFigures;
}

/** What `job report` takes. */
export interface JobReportWords extends JobWeighWords {
  readonly for?: Audience;
  readonly out?: string;
}

/** What `job check` takes. */
export interface JobCheckWords extends JobWords {
  readonly recompute: boolean;
}

/** What `job pack` takes. */
export interface JobPackWords extends JobWords {
  readonly out?: string;
  readonly replace?: boolean;
}

/** What `job index` takes. */
export interface JobIndexWords extends JobWords {
  readonly device?: string;
  readonly ref?: string;
  readonly net?: string;
  readonly text?: string;
  readonly since?: string;
  readonly until?: string;
}
