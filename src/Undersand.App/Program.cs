using Undersand.App;
using Undersand.Runs;

return await CommandLine.RunAsync(args, new Session(new SurveyRunner(), Console.Out, Console.Error));
