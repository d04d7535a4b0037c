using Undersand.Bench.Memory;
using Undersand.Bench.Quality;
using Undersand.Bench.Speed;
using Undersand.Bench.Viewers;
using Undersand.Bench.Watching;

switch (args.FirstOrDefault())
{
    case "speed":
        return SpeedBench.Run(args[1..]);
    case "quality":
        return QualityBench.Run(args[1..]);
    case "memory":
        return LongSurvey.Run(args[1..]);
    case "viewers":
        return await ViewersBench.RunAsync(args[1..]);
    case "watching":
        return await WatchingBench.RunAsync(args[1..]);
    default:
        Console.Error.WriteLine("Usage: dotnet run --project bench/Undersand.Bench -c Release -- speed [--rounds N] [--threads N] [--write]");
        Console.Error.WriteLine("       … -- quality [quiet|arrays|bands|heights|sediment|clutter|none]... [--first=N] [--write]");
        Console.Error.WriteLine("       … -- memory write FOLDER PINGS | memory read FOLDER | memory process FOLDER RESULTS");
        Console.Error.WriteLine("       … -- viewers RESULTS [VIEWERS] [SECONDS]");
        Console.Error.WriteLine("       … -- watching NEW-FOLDER [LINES] [FIRST-MEASURED]");
        return 2;
}
