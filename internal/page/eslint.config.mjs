// What is looked for in the page's JavaScript besides types (jsconfig.json): what is
// written and never used, what is likely a slip.
const rules = {
  "array-callback-return": "error", "default-case-last": "error", "dot-notation": "error",
  eqeqeq: "error", "no-constant-binary-expression": "error", "no-constructor-return": "error", "no-dupe-else-if": "error",
  "no-duplicate-imports": "error", "no-else-return": "error", "no-eval": "error", "no-fallthrough": "error",
  "no-implied-eval": "error", "no-loss-of-precision": "error", "no-promise-executor-return": "off", "no-redeclare": "error",
  "no-self-compare": "error", "no-template-curly-in-string": "error", "no-unmodified-loop-condition": "error",
  "no-unreachable": "error", "no-unsafe-optional-chaining": "error", "no-unused-private-class-members": "error",
  "no-unused-vars": ["error", { argsIgnorePattern: "^_", caughtErrors: "none" }], "no-use-before-define": ["error", { functions: false, variables: false, classes: false }],
  "no-useless-return": "error", "no-var": "error", "object-shorthand": "error", "prefer-const": ["error", { destructuring: "all" }],
  "prefer-rest-params": "error", "require-atomic-updates": "off", "valid-typeof": "error",
};

export default [
  { files: ["**/site/js/**/*.js"], rules, languageOptions: { sourceType: "module", ecmaVersion: 2024 } },
  // A plain script, for browsers too old for the rest.
  { files: ["**/site/js/able.js"], rules: { "no-var": "off", "object-shorthand": "off" }, languageOptions: { sourceType: "script", ecmaVersion: 2017 } },
  { files: ["**/site/*.js"], rules, languageOptions: { sourceType: "script", ecmaVersion: 2024 } },
];
