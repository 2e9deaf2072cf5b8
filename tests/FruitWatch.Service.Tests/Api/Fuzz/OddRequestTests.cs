using System.Collections.Concurrent;
using System.Globalization;
using System.Text;
using FruitWatch.Service.Tests.Access;
using FruitWatch.Service.Tests.Api.Contract;
using FruitWatch.Store.Entities;

namespace FruitWatch.Service.Tests.Api.Fuzz;

/// <summary>
/// Requests made from the description and changed, of all roles, with good tokens and bad ones: none may fail the service, and every
/// refusal is a problem with a status that the description names. FRUITWATCH_REQUESTS says how many, FRUITWATCH_REQUESTS_SEED starts
/// others, FRUITWATCH_REQUESTS_REPORT names a file for the counts.
/// </summary>
public sealed class OddRequestTests
{
    /// <summary>Operations that compute for long; one in so many of the others.</summary>
    private static readonly Dictionary<string, int> s_slow = new()
    {
        ["GetSiteSeason"] = 40,
        ["GetBedOutlook"] = 20,
        ["GetBedAccount"] = 8,
        ["GetBedToday"] = 8,
        ["GetVerification"] = 8,
        ["GetSiteClimate"] = 8,
        ["AddLogEntry"] = 3,
        ["CorrectLogEntry"] = 3,
    };

    [Fact]
    public async Task No_request_fails_the_service_and_every_refusal_is_a_problem_that_is_described()
    {
        var count = Number("FRUITWATCH_REQUESTS", 3000);
        var seed = Number("FRUITWATCH_REQUESTS_SEED", 20261014);
        await using var service = await ExampleScene.StartAsync();
        var contract = await ContractHandler.OfAsync(service.Address);
        var callers = await CallersAsync(service);
        // It would end everything that the others are asked of.
        var turns = contract.Operations.Where(operation => operation.Id != "DeleteCooperative").SelectMany(operation => Enumerable.Repeat(operation, Math.Max(1, 40 / s_slow.GetValueOrDefault(operation.Id, 1)))).ToList();
        using var http = new HttpClient(new SocketsHttpHandler { AllowAutoRedirect = false, UseCookies = false, RequestHeaderEncodingSelector = (_, _) => Encoding.UTF8 }) { Timeout = Timeout.InfiniteTimeSpan };
        var counts = new ConcurrentDictionary<string, int>();
        var wrong = new ConcurrentQueue<string>();
        await Parallel.ForEachAsync(Enumerable.Range(0, count), new ParallelOptions { MaxDegreeOfParallelism = 4 }, async (number, stop) =>
        {
            var random = new Random(unchecked(seed * 31 + number));
            var odd = new OddRequest(turns[random.Next(turns.Count)], random.Next());
            var caller = callers[random.Next(callers.Count)];
            using var request = odd.Make(service.Address);
            if (caller.Token is { } token)
                request.Headers.TryAddWithoutValidation("Authorization", token);
            using var answer = await http.SendAsync(request, stop);
            var text = await answer.Content.ReadAsStringAsync(stop);
            var status = (int)answer.StatusCode;
            counts.AddOrUpdate(status.ToString(CultureInfo.InvariantCulture), 1, (_, known) => known + 1);
            counts.AddOrUpdate($"{caller.Name} {status}", 1, (_, known) => known + 1);
            // A NUL in an address is refused by the server's own reader, with nothing, before anything of ours is asked.
            if (status == 400 && text.Length == 0 && odd.Address.Split('?')[0].Contains("%00", StringComparison.Ordinal))
                return;
            // Schemas of good answers are looked at by the examples; here one in twenty.
            var looked = status >= 400 || number % 20 == 0;
            if (contract.Check(odd.Method, Path(odd.Address), status, answer.Content.Headers.ContentType?.MediaType, looked && text.Length < 60_000 ? text : null) is { } said)
                wrong.Enqueue($"#{number} as {caller.Name}: {odd}\n  {status}: {said}\n  {text[..Math.Min(300, text.Length)]}");
        });
        Report(counts);
        Assert.True(wrong.IsEmpty, $"{wrong.Count} of {count} by seed {seed}:\n{string.Join("\n", wrong.Take(15))}\n{string.Join("\n", service.Faults.Told.Take(5))}");
    }

    private static async Task<IReadOnlyList<(string Name, string? Token)>> CallersAsync(Pages.TestService service)
    {
        var invented = service.Invented;
        long other;
        await using (var store = service.Store())
        {
            var cooperative = new Cooperative { Name = "Far Shore Growers" };
            store.Cooperatives.Add(cooperative);
            await store.SaveChangesAsync();
            other = cooperative.Id;
            store.Sites.Add(new Site { CooperativeId = other, Name = "Far Shore", Latitude = 51, Longitude = 0, ZoneId = "Europe/London" });
            await store.SaveChangesAsync();
        }

        // People and tokens whose keys the requests know: they are changed, removed and taken back in the callers' place.
        for (var i = 0; i < 24; i++)
            await Member.JoinAsync(service.Services, invented.Cooperative, Role.FarmHand, $"Fuzz Filler{i}");
        var callers = new List<(string, string?)>();
        foreach (var role in new[] { Role.Coordinator, Role.Grower, Role.FarmHand, Role.Viewer })
        {
            var member = await Member.JoinAsync(service.Services, invented.Cooperative, role, $"Fuzz {role}", [invented.AlderLane]);
            callers.Add((role.ToString(), "Bearer " + member.Token));
        }

        // Most of all who may do most.
        callers.AddRange(Enumerable.Repeat(callers[0], 6));
        callers.Add(("Stranger", "Bearer " + (await Member.JoinAsync(service.Services, other, Role.Coordinator, "Fuzz Stranger")).Token));
        callers.AddRange([("nobody", null), ("nonsense", "Bearer fw_1_nonsense"), ("nonsense", "Basic dXNlcjpwYXNz"), ("nonsense", "Bearer fw_99999999999999999999_x")]);
        return callers;
    }

    private static void Report(ConcurrentDictionary<string, int> counts)
    {
        if (Environment.GetEnvironmentVariable("FRUITWATCH_REQUESTS_REPORT") is { Length: > 0 } file)
            File.WriteAllLines(file, counts.OrderBy(pair => pair.Key, StringComparer.Ordinal).Select(pair => $"{pair.Key}\t{pair.Value}"));
    }

    private static string Path(string address) => address.Split('?')[0];

    private static int Number(string name, int usual) =>
        int.TryParse(Environment.GetEnvironmentVariable(name), NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : usual;
}
