// A page against the rules of the HTML standard, as html-validate knows them.
import { HtmlValidate } from 'html-validate';

const validator = new HtmlValidate({
  root: true,
  extends: ['html-validate:standard', 'html-validate:document', 'html-validate:a11y'],
});

/// "rule-name: message (line:column)", one for each thing that the standard does not allow.
export async function validate(path) {
  const report = await validator.validateFile(path);
  return report.results.flatMap((result) => result.messages.map((m) => `${m.ruleId}: ${m.message} (${m.line}:${m.column})`));
}
