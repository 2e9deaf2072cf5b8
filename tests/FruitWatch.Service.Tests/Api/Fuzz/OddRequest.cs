using System.Text;
using System.Text.Json.Nodes;
using FruitWatch.Service.Tests.Api.Contract;
using FruitWatch.Service.Web.OpenApi;

namespace FruitWatch.Service.Tests.Api.Fuzz;

/// <summary>A request made from an operation of the description and its example, with some of it changed to what it should not be.</summary>
internal sealed class OddRequest
{
    private static readonly string[] s_keys = ["0", "1", "2", "3", "4", "5", "6", "17", "-1", "999", "9223372036854775807", "9223372036854775808", "1.5", "one", "%00", "%ff", "1%2F2", "5d0cbb0e-7a1c-4b35-9f6e-2c1d8a40b7f3"];
    private static readonly string[] s_forms = ["text/plain", "application/json; charset=utf-16", "application/xml", "multipart/form-data", "application/x-www-form-urlencoded", "application/json; charset=nonsense", ";;;"];
    private static readonly string[] s_accepts = ["*/*", "text/html", "application/json;q=0", "application/*", "text/csv", "nonsense", "application/problem+json", "a/b;q=2"];

    private static readonly string[] s_queries = ["%ff=1", "limit=%80", "limit=%00", "limit=200&limit=200", "&&&", "=", "limit", "cursor=9223372036854775807", "limit=999999999999", "a%5B%5D=1", "%"];
    private static readonly string[] s_tags = ["*", "\"1\"", "W/\"1\"", "1", "\"", "\"99\", \"1\"", ""];
    private static readonly string[] s_methods = ["GET", "POST", "PUT", "DELETE", "PATCH", "OPTIONS", "HEAD"];

    private readonly Random random;
    private readonly List<(string Name, string Value)> headers = [];

    public OddRequest(DescribedOperation operation, int seed)
    {
        random = new Random(seed);
        Operation = operation;
        Method = operation.Method;
        var example = ApiExample.All.GetValueOrDefault(operation.Id);
        var path = operation.Path.Split('/').Select(part => part is ['{', ..] ? Key(example, part.Trim('{', '}')) : part).ToList();
        var query = (example?.Query ?? []).Where(_ => Often()).Select(pair => $"{pair.Key}={Uri.EscapeDataString(pair.Value.ToString())}").ToList();
        foreach (var (name, value) in example?.Headers ?? [])
            headers.Add((name, value));
        Body = example?.Body?.ToJsonString() is { } json ? Encoding.UTF8.GetBytes(json) : example?.Text is { } text ? Encoding.UTF8.GetBytes(text) : null;
        Form = example?.Text is null ? "application/json" : example.TextForm!;
        for (var changes = random.Next(4); changes > 0; changes--)
            Change(path, query, example);
        Address = string.Join('/', path) + (query.Count > 0 ? "?" + string.Join('&', query) : "");
    }

    public DescribedOperation Operation { get; }

    public string Method { get; private set; }

    public string Address { get; }

    public byte[]? Body { get; private set; }

    public string Form { get; private set; }

    public HttpRequestMessage Make(Uri service)
    {
        // As it stands: what is mended on the way is not tried.
        var address = new Uri(service.GetLeftPart(UriPartial.Authority) + Address, new UriCreationOptions { DangerousDisablePathAndQueryCanonicalization = true });
        var request = new HttpRequestMessage(new HttpMethod(Method), address);
        if (Body is not null)
        {
            request.Content = new ByteArrayContent(Body);
            request.Content.Headers.Remove("Content-Type");
            request.Content.Headers.TryAddWithoutValidation("Content-Type", Form);
        }

        foreach (var (name, value) in headers)
            request.Headers.TryAddWithoutValidation(name, value);
        return request;
    }

    public override string ToString() =>
        $"{Method} {Short(Address)} [{string.Join("; ", headers.Select(header => $"{header.Name}: {Short(header.Value)}"))}] {Form} {(Body is null ? "" : Short(Encoding.UTF8.GetString(Body)))}";

    private void Change(List<string> path, List<string> query, ApiExample? example)
    {
        switch (random.Next(Body is null ? 7 : 15))
        {
            case 0:
                for (var i = 0; i < path.Count; i++)
                {
                    if (Operation.Path.Split('/')[i] is ['{', ..] && Often())
                        path[i] = random.Next(4) == 0 ? Uri.EscapeDataString(OddValues.Text(random)) : s_keys[random.Next(s_keys.Length)];
                }

                break;
            case 1:
                var names = (Operation.Json["parameters"]?.AsArray() ?? []).Where(one => one?["in"]?.ToString() == "query").Select(one => one!["name"]!.ToString()).ToList();
                query.Add($"{(names.Count > 0 && Often() ? names[random.Next(names.Count)] : "odd")}={Escaped(OddValues.Text(random))}");
                break;
            case 2:
                query.Add(s_queries[random.Next(s_queries.Length)]);
                break;
            case 3:
                headers.Add(("Accept", s_accepts[random.Next(s_accepts.Length)]));
                break;
            case 4:
                headers.RemoveAll(header => header.Name == "If-Match");
                if (Often())
                    headers.Add((random.Next(2) == 0 ? "If-Match" : "If-None-Match", s_tags[random.Next(s_tags.Length)]));
                break;
            case 5:
                headers.Add(("Idempotency-Key", new[] { "fuzz-1", "\"fuzz-2\"", "", "two words", new string('k', 300), $"f{random.Next(200)}" }[random.Next(6)]));
                break;
            case 6:
                if (random.Next(3) == 0)
                    Method = s_methods[random.Next(s_methods.Length)];
                else
                    headers.Add(("Accept-Language", string.Concat(OddValues.Text(random).Where(c => !char.IsControl(c) && !char.IsSurrogate(c)))));
                break;
            case 7:
                Form = s_forms[random.Next(s_forms.Length)];
                break;
            case 8:
                Broken();
                break;
            default:
                ChangeField(example?.Body);
                break;
        }
    }

    private void Broken() => Body = random.Next(6) switch
    {
        0 => Body!.Length > 1 ? Body[..random.Next(Body.Length)] : Body,
        1 => [],
        2 => [0xff, 0xfe, 0x00, 0x22],
        3 => Encoding.UTF8.GetBytes("{\"name\":\"").Concat(new byte[] { 0xc3, 0x28 }).Concat(Encoding.UTF8.GetBytes("\"}")).ToArray(),
        4 => Encoding.UTF8.GetBytes(OddValues.Json(random)),
        _ => Encoding.UTF8.GetBytes("{\"name\":\"" + new string('z', random.Next(60_000, 80_000)) + "\"}"),
    };

    // As text: the value that is put in may be no JSON that a library would write.
    private void ChangeField(JsonNode? sent)
    {
        if (sent is not JsonObject json)
            return;
        var fields = json.Select(field => (field.Key, Json: field.Value?.ToJsonString() ?? "null")).ToList();
        var at = fields.Count > 0 ? random.Next(fields.Count) : 0;
        switch (random.Next(6))
        {
            case 0 when fields.Count > 0:
                fields.RemoveAt(at);
                break;
            case 1:
                fields.Add((random.Next(2) == 0 ? "odd" : OddValues.Text(random), OddValues.Json(random)));
                break;
            case 2 when fields.Count > 0:
                fields.Add(fields[at]);
                break;
            default:
                if (fields.Count > 0)
                    fields[at] = (fields[at].Key, Inner(json[fields[at].Key]));
                break;
        }

        Body = Encoding.UTF8.GetBytes("{" + string.Join(',', fields.Select(field => JsonValue.Create(field.Key).ToJsonString() + ":" + field.Json)) + "}");
    }

    private string Inner(JsonNode? value)
    {
        if (value is JsonArray { Count: > 0 } list && list[0] is JsonObject entry && Often())
        {
            var names = entry.Select(field => field.Key).ToList();
            var chosen = names[random.Next(names.Count)];
            return "[{" + string.Join(',', names.Select(name => $"\"{name}\":{(name == chosen ? OddValues.Json(random) : entry[name]?.ToJsonString() ?? "null")}")) + "}]";
        }

        return OddValues.Json(random);
    }

    private string Key(ApiExample? example, string name) =>
        example?.Path?.GetValueOrDefault(name)?.ToString() is { } known && known is not ['$', ..] && Often() ? known : s_keys[random.Next(8)];

    private string Escaped(string text) =>
        // Bare, where it can be: what is not ASCII never gets past the server's own reader.
        random.Next(5) == 0 && text.All(c => c is > ' ' and < '\u007f') ? text : Uri.EscapeDataString(text);

    private bool Often() => random.Next(4) != 0;

    private static string Short(string text) => text.Length <= 300 ? text : text[..300] + "…";
}
