using System.Text;
using Undersand.App;
using Undersand.Runs;

Console.OutputEncoding = new UTF8Encoding(encoderShouldEmitUTF8Identifier: false);
return await CommandLine.RunAsync(args, new Session(new SurveyRunner(), Console.Out, Console.Error));
