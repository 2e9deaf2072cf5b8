namespace FruitWatch.Service.Operating;

/// <summary>Options of a command, each a name with a value: <c>--name value</c>.</summary>
internal sealed class VerbOptions
{
    private readonly Dictionary<string, string> values = [];

    public static VerbOptions Parse(ReadOnlySpan<string> args, params string[] known)
    {
        var options = new VerbOptions();
        for (var i = 0; i < args.Length; i += 2)
        {
            var name = args[i].StartsWith("--", StringComparison.Ordinal) ? args[i][2..] : null;
            if (name is null || !known.Contains(name))
                throw new VerbException($"{args[i]}: expected {(known.Length == 0 ? "nothing more" : string.Join(" or ", known.Select(k => "--" + k)))}.");
            if (i + 1 == args.Length)
                throw new VerbException($"--{name}: expected a value after it.");
            if (!options.values.TryAdd(name, args[i + 1]))
                throw new VerbException($"--{name} is given twice.");
        }

        return options;
    }

    public string Required(string name) => Optional(name) ?? throw new VerbException($"--{name} is missing.");

    public string? Optional(string name) => values.GetValueOrDefault(name);
}
