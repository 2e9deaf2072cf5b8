using System.Net.Http.Headers;
using System.Text;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Service.Web.OpenApi;

namespace FruitWatch.Service.Tests.Api.Contract;

/// <summary>Sends the examples of the description to a service, each after those that it names.</summary>
internal sealed partial class ExampleRun(TestService service, ApiContract contract)
{
    private readonly Dictionary<string, ApiExampleAnswer> answers = [];

    /// <summary>The examples in an order in which they can be sent.</summary>
    public IEnumerable<DescribedOperation> InOrder()
    {
        var left = contract.Operations.Where(operation => ApiExample.All.ContainsKey(operation.Id))
            .OrderBy(operation => Array.IndexOf(["GET", "POST", "PUT", "DELETE"], operation.Method)).ThenBy(operation => operation.Id, StringComparer.Ordinal).ToList();
        var done = new HashSet<string>();
        while (left.Count > 0)
        {
            // Reading goes on as long as it can, so that what is read is the cooperative as it was invented.
            var next = left.FirstOrDefault(operation => ApiExample.All[operation.Id].After is not { } after || done.Contains(after))
                ?? throw new InvalidOperationException($"These examples wait for each other, or for none: {string.Join(", ", left)}");
            left.Remove(next);
            done.Add(next.Id);
            yield return next;
        }
    }

    public HttpRequestMessage Request(DescribedOperation operation)
    {
        var example = ApiExample.All[operation.Id];
        var path = operation.Path;
        foreach (var (name, value) in example.Path ?? [])
            path = path.Replace($"{{{name}}}", Uri.EscapeDataString(Filled(value)!.ToString()), StringComparison.Ordinal);
        var query = string.Join('&', (example.Query ?? []).Select(pair => $"{pair.Key}={Uri.EscapeDataString(Filled(pair.Value)!.ToString())}"));
        var request = new HttpRequestMessage(new HttpMethod(operation.Method), path + (query.Length > 0 ? "?" + query : ""));
        if (example.Body is not null)
            request.Content = new StringContent(Filled(example.Body)!.ToJsonString(), Encoding.UTF8, "application/json");
        else if (example.Text is not null)
            request.Content = new StringContent(example.Text, new MediaTypeHeaderValue(example.TextForm!));
        foreach (var (name, value) in example.Headers ?? [])
            request.Headers.TryAddWithoutValidation(name, Filled(JsonValue.Create(value))!.ToString());
        return request;
    }

    public async Task<ApiExampleAnswer> SendAsync(DescribedOperation operation, Action<HttpRequestMessage>? adjust = null)
    {
        using var http = service.Client();
        using var request = Request(operation);
        adjust?.Invoke(request);
        using var answer = await http.SendAsync(request);
        var text = await answer.Content.ReadAsStringAsync();
        var json = answer.Content.Headers.ContentType?.MediaType?.EndsWith("json", StringComparison.Ordinal) == true;
        var headers = new Dictionary<string, string>();
        if (answer.Headers.ETag is { } tag)
            headers["ETag"] = tag.ToString();
        if (answer.Headers.Location is { } location)
            headers["Location"] = location.ToString();
        var told = new ApiExampleAnswer(
            (int)answer.StatusCode, headers.Count > 0 ? headers : null, json ? JsonNode.Parse(text) : null, json || text.Length == 0 ? null : text);
        answers[operation.Id] = told;
        return told;
    }

    /// <summary>Sends an example whose answer is known already, as it was sent then.</summary>
    public async Task<(int Status, bool Replayed)> AgainAsync(DescribedOperation operation, Action<HttpRequestMessage> adjust)
    {
        using var http = service.Client();
        using var request = Request(operation);
        adjust(request);
        using var answer = await http.SendAsync(request);
        return ((int)answer.StatusCode, answer.Headers.Contains(FruitWatch.Service.Web.Conduct.Idempotency.ReplayedHeader));
    }

    // "$AddFeed.id" stands for a value of the answer to another example.
    private JsonNode? Filled(JsonNode? node) => ApiExample.Fill(node, name => answers.GetValueOrDefault(name)?.Body)
        ?? throw new InvalidOperationException($"{node?.ToJsonString()} has no value. The answers were: {string.Join("; ", answers.Where(answer => answer.Value.Status >= 400).Select(answer => $"{answer.Key} {answer.Value.Status} {answer.Value.Body?.ToJsonString()}"))}");

    /// <summary>An answer as it is kept: the beginning of lists and texts, and no secret.</summary>
    public static ApiExampleAnswer Short(ApiExampleAnswer answer) => answer with { Body = Short(answer.Body), Text = answer.Text is { } text ? Cut(text) : null };

    private static JsonNode? Short(JsonNode? node) => node switch
    {
        // A schema within the document would be taken for a part of it.
        JsonObject json when json.ContainsKey("$schema") => new JsonObject(json.Where(pair => pair.Value is JsonValue).Select(pair => KeyValuePair.Create(pair.Key, pair.Value?.DeepClone()))),
        JsonObject json => new JsonObject(json.Take(40).Select(pair => KeyValuePair.Create(pair.Key, Short(pair.Value)))),
        JsonArray list => new JsonArray([.. list.Take(2).Select(Short)]),
        JsonValue value when value.TryGetValue<string>(out var text) => JsonValue.Create(Cut(text)),
        _ => node?.DeepClone(),
    };

    private static string Cut(string text)
    {
        var open = Secret().Replace(text, "0000000000EXAMPLE0000000000EXAMPLE000000000");
        return open.Length <= 600 ? open : open[..600];
    }

    [GeneratedRegex("(?<=whsec_)[A-Za-z0-9+/]{43}=|(?<![A-Za-z0-9_-]|fw_[0-9]{0,9})[A-Za-z0-9_-]{43}(?![A-Za-z0-9_-])|(?<=fw_[0-9]+_)[A-Za-z0-9_-]{43}")]
    private static partial Regex Secret();
}
