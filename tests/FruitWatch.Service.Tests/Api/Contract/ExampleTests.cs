using System.Text.Json;
using FruitWatch.Service.Web.OpenApi;

namespace FruitWatch.Service.Tests.Api.Contract;

/// <summary>The examples of the description, sent.</summary>
public sealed class ExampleTests
{
    /// <summary>
    /// To take over what is answered, run this test with FRUITWATCH_ACCEPT=1; then build, and accept docs/openapi.json by DescriptionTests.
    /// </summary>
    [Fact]
    public async Task Every_example_is_answered_as_its_description_says()
    {
        var accept = Environment.GetEnvironmentVariable("FRUITWATCH_ACCEPT") == "1";
        await using var service = await ExampleScene.StartAsync();
        var contract = await ContractHandler.OfAsync(service.Address);
        var run = new ExampleRun(service, contract);
        var wrong = new List<string>();
        foreach (var operation in run.InOrder())
        {
            var example = ApiExample.All[operation.Id];
            var answer = await run.SendAsync(operation);
            if (accept)
                Keep(operation.Id, example with { Answer = ExampleRun.Short(answer) });
            if (answer.Status is < 200 or >= 300)
                wrong.Add($"{operation.Id}: {answer.Status} {answer.Body?.ToJsonString()}");
            else if (!accept && answer.Status != example.Answer?.Status)
                wrong.Add($"{operation.Id}: {answer.Status}, but its example says {example.Answer?.Status}");
        }

        Assert.True(wrong.Count == 0, string.Join("\n", wrong));
    }

    [Fact]
    public async Task Every_operation_has_an_example_and_every_example_an_operation()
    {
        await using var service = await ExampleScene.StartAsync();
        var contract = await ContractHandler.OfAsync(service.Address);
        Assert.Equal(contract.Operations.Select(operation => operation.Id).Order(), ApiExample.All.Keys.Order());
    }

    [Fact]
    public async Task What_is_sent_and_answered_in_every_example_is_what_its_schema_says()
    {
        await using var service = await ExampleScene.StartAsync();
        var contract = await ContractHandler.OfAsync(service.Address);
        var wrong = new List<string>();
        foreach (var operation in contract.Operations)
        {
            if (operation.Json["requestBody"]?["content"]?["application/json"] is { } sent && contract.Validate(sent["schema"]!, sent["example"]!.ToJsonString()) is { } bad)
                wrong.Add($"{operation.Id} as sent: {bad}");
            foreach (var (status, reference) in operation.Json["responses"]!.AsObject())
            {
                foreach (var (form, content) in contract.Followed(reference)?["content"]?.AsObject() ?? [])
                {
                    if (form.EndsWith("json", StringComparison.Ordinal) && contract.Validate(content!["schema"]!, content["example"]!.ToJsonString()) is { } odd)
                        wrong.Add($"{operation.Id} {status}: {odd}");
                }
            }
        }

        Assert.True(wrong.Count == 0, string.Join("\n", wrong));
    }

    private static void Keep(string id, ApiExample example)
    {
        var service = Path.Combine(DescriptionTests.Repository(), "src", "FruitWatch.Service");
        var file = Directory.EnumerateFiles(service, id + ".json", SearchOption.AllDirectories).Single(path => Path.GetFileName(Path.GetDirectoryName(path)) == "Examples");
        File.WriteAllText(file, JsonSerializer.Serialize(example, ApiExample.Json) + "\n");
    }
}
